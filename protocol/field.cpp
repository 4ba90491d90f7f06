// What makes a catalogue of fields impossible.
#include "protocol/field.h"

#include <algorithm>

namespace understudy::protocol {
namespace {

bool is_name_byte(char byte) {
  return (byte >= 'a' && byte <= 'z') || (byte >= 'A' && byte <= 'Z') ||
         (byte >= '0' && byte <= '9') || byte == '_' || byte == '-';
}

// Letters, digits, `_`, `-`; one `.` with something on both sides.
bool is_field_name(std::string_view name) {
  const std::size_t point = name.find('.');
  if (name.empty() || point == 0 || point + 1 == name.size()) return false;
  for (std::size_t at = 0; at < name.size(); ++at) {
    if (at != point && !is_name_byte(name[at])) return false;
  }
  return true;
}

FormatError fault_of(const Field& field, std::string found, std::string expected) {
  return {.found = "field `" + field.name + "` with " + std::move(found),
          .expected = std::move(expected)};
}

std::optional<FormatError> find_fault_in_words(const Field& field) {
  const auto count = static_cast<std::uint64_t>(field.max - field.min) + 1;
  if (field.words.size() != count) {
    return fault_of(field, std::to_string(field.words.size()) + " words",
                    "one word for each of its " + std::to_string(count) + " states");
  }
  if (field.decimals != 0) return fault_of(field, "words and decimals", "one of the two");
  std::vector<std::string> sorted = field.words;
  std::sort(sorted.begin(), sorted.end());
  if (sorted.front().empty()) return fault_of(field, "an empty word", "words of a byte or more");
  const auto twice = std::adjacent_find(sorted.begin(), sorted.end());
  if (twice != sorted.end()) {
    return fault_of(field, "the word \"" + *twice + "\" twice", "a word of its own per state");
  }
  return std::nullopt;
}

std::optional<FormatError> find_fault_in_field(const Field& field) {
  if (!is_field_name(field.name)) {
    return FormatError{.found = "a field named `" + field.name + "`",
                       .expected = "letters, digits, _ and -, with at most one . inside"};
  }
  if (field.min > field.max || field.min < -kWireNumberMax || field.max > kWireNumberMax) {
    return fault_of(field,
                    "the range " + std::to_string(field.min) + " to " + std::to_string(field.max),
                    "the lower number first, both of at most 18 digits");
  }
  if (field.decimals < 0 || field.decimals > kDecimalsMax) {
    return fault_of(field, std::to_string(field.decimals) + " decimals", "0 to 6");
  }
  return field.words.empty() ? std::nullopt : find_fault_in_words(field);
}

}  // namespace

std::optional<FormatError> find_fault_in_catalogue(std::span<const Field> catalogue) {
  if (catalogue.size() > kCatalogueFieldsMax) {
    return FormatError{.found = std::to_string(catalogue.size()) + " fields",
                       .expected = "at most " + std::to_string(kCatalogueFieldsMax)};
  }
  std::vector<std::string_view> names;
  for (const Field& field : catalogue) {
    if (auto fault = find_fault_in_field(field)) return fault;
    names.push_back(field.name);
  }
  std::sort(names.begin(), names.end());
  const auto twice = std::adjacent_find(names.begin(), names.end());
  if (twice != names.end()) {
    return FormatError{.found = "two fields named `" + std::string(*twice) + "`",
                       .expected = "names that differ"};
  }
  return std::nullopt;
}

std::optional<std::size_t> find_field(std::span<const Field> catalogue, std::string_view name) {
  for (std::size_t index = 0; index < catalogue.size(); ++index) {
    if (catalogue[index].name == name) return index;
  }
  return std::nullopt;
}

}  // namespace understudy::protocol
