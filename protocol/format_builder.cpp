// From nodes to compiled items; the questions about whole lines are in format_review.cpp.
#include "protocol/format_builder.h"

#include <algorithm>
#include <utility>

#include "protocol/digits.h"
#include "protocol/nearest_name.h"

namespace understudy::protocol {
namespace {

// A board counts lines and milliseconds in 32 bits, so both wrap there.
constexpr std::int64_t kCounterMax = 0xFFFFFFFF;

FormatError fault_at(std::size_t column, std::string found, std::string expected) {
  return {.column = column, .found = std::move(found), .expected = std::move(expected)};
}

std::string braced(const std::string& name) {
  return "`{" + name + "}`";
}

// Bytes of the number as written without a width.
std::size_t shortest_bytes(std::int64_t number, const LineItem& item) {
  const auto size = static_cast<std::uint64_t>(number < 0 ? -number : number);
  int digits = item.notation == Notation::kDecimal ? count_digits(size) : count_hex_digits(size);
  digits = std::max(digits, item.decimals + 1);
  return static_cast<std::size_t>(digits + (item.decimals > 0 ? 1 : 0) + (number < 0 ? 1 : 0));
}

std::size_t longest_bytes(const LineItem& item) {
  return std::max(
      {shortest_bytes(item.min, item), shortest_bytes(item.max, item), std::size_t{item.width}});
}

// At least 1; a lower bound is enough where zeros may be left out.
std::size_t least_bytes(const LineItem& item) {
  if (item.width > 0) return item.width;
  if (item.short_decimals) return 1;
  const std::int64_t nearest = item.min > 0 ? item.min : std::min<std::int64_t>(item.max, 0);
  return shortest_bytes(nearest, item);
}

}  // namespace

Outcome<LineFormat> FormatBuilder::build(std::span<const TemplateNode> nodes, std::string text) {
  format_ = LineFormat();
  format_.text_ = std::move(text);
  format_.starts_ = options_.framing.starts;
  format_.ends_ = options_.framing.ends;
  format_.catalogue_fields_ = options_.catalogue.size();
  next_ = LineItem();
  std::size_t text_column = 1;
  for (const TemplateNode& node : nodes) {
    if (node.kind == TemplateNode::Kind::kText) {
      pending_text_ += node.text;
      text_column = node.column;
      continue;
    }
    Fault fault;
    if (node.kind == TemplateNode::Kind::kField) fault = add_field(node);
    if (node.kind == TemplateNode::Kind::kBits) fault = add_bits(node);
    if (node.kind == TemplateNode::Kind::kBuiltIn) fault = add_built_in(node);
    if (fault) return *fault;
    close_place(node);
  }
  if (!pending_text_.empty()) close_place({.column = text_column});
  if (format_.items_.empty()) return fault_at(0, "an empty template", "text or {fields}");
  if (auto fault = add_check()) return *fault;
  measure();
  if (auto fault = find_second_reading()) return *fault;
  if (auto fault = find_quarrel_with_framing()) return *fault;
  return std::move(format_);
}

void FormatBuilder::put_text(LineItem& item, std::string text) {
  item.text_at = static_cast<std::uint32_t>(format_.literals_.size());
  item.text_bytes = static_cast<std::uint32_t>(text.size());
  item.text_first = text.empty() ? '\0' : text[0];
  format_.literals_ += text;
}

void FormatBuilder::close_place(const TemplateNode& node) {
  put_text(next_, std::exchange(pending_text_, {}));
  format_.items_.push_back(next_);
  format_.names_.push_back(node.text);
  columns_.push_back(node.column);
  next_ = LineItem();
}

FormatBuilder::Fault FormatBuilder::carry(std::size_t field, std::size_t column,
                                          const std::string& name) {
  if (format_.carries(field)) {
    return fault_at(column, "`" + name + "` a second time", "each field once in a line");
  }
  format_.fields_.push_back(static_cast<std::uint16_t>(field));
  return std::nullopt;
}

FormatError FormatBuilder::unknown_name(const std::string& name, std::size_t column) const {
  std::vector<std::string_view> names;
  for (const Field& field : options_.catalogue) names.push_back(field.name);
  const std::string_view nearest = find_nearest_name(name, names);
  std::string expected = "the name of a field";
  if (!nearest.empty()) expected += "; nearest is `" + std::string(nearest) + "`";
  return fault_at(column, braced(name), std::move(expected));
}

FormatBuilder::Fault FormatBuilder::add_field(const TemplateNode& node) {
  const auto index = find_field(options_.catalogue, node.text);
  if (!index) return unknown_name(node.text, node.column);
  if (auto fault = carry(*index, node.column, node.text)) return fault;
  const Field& field = options_.catalogue[*index];
  next_.field = static_cast<std::uint16_t>(*index);
  return field.words.empty() ? add_number_place(field, node) : add_word_place(field, node);
}

FormatBuilder::Fault FormatBuilder::add_word_place(const Field& field, const TemplateNode& node) {
  if (!node.style.is_default()) {
    return fault_at(node.column, "a width or notation for the words of " + braced(field.name),
                    "`{name}` alone: give the words the length they shall have");
  }
  next_.kind = ItemKind::kWord;
  next_.min = field.min;
  next_.max = field.max;
  next_.count = static_cast<std::uint16_t>(field.words.size());
  next_.first = static_cast<std::uint32_t>(format_.words_.size());
  format_.words_.insert(format_.words_.end(), field.words.begin(), field.words.end());
  return std::nullopt;
}

FormatBuilder::Fault FormatBuilder::add_number_place(const Field& field, const TemplateNode& node) {
  next_.min = field.min;
  next_.max = field.max;
  next_.decimals = static_cast<std::uint8_t>(field.decimals);
  if (auto fault = set_style(node)) return fault;
  const bool plain = node.style.is_default() && field.decimals == 0;
  next_.kind = plain ? ItemKind::kPlain : ItemKind::kNumber;
  return std::nullopt;
}

FormatBuilder::Fault FormatBuilder::add_bits(const TemplateNode& node) {
  next_.kind = ItemKind::kBits;
  next_.first = static_cast<std::uint32_t>(format_.bits_.size());
  next_.count = static_cast<std::uint16_t>(node.bits.size());
  for (std::size_t bit = 0; bit < node.bits.size(); ++bit) {
    const std::string& name = node.bits[bit];
    const auto index = find_field(options_.catalogue, name);
    if (!index) return unknown_name(name, node.bit_columns[bit]);
    const Field& field = options_.catalogue[*index];
    if (field.min != 0 || field.max != 1) {
      return fault_at(
          node.bit_columns[bit],
          "`" + name + "` from " + std::to_string(field.min) + " to " + std::to_string(field.max),
          "fields of 0 and 1 in a bit mask");
    }
    if (auto fault = carry(*index, node.bit_columns[bit], name)) return fault;
    format_.bits_.push_back(static_cast<std::uint16_t>(*index));
  }
  if (node.high_first) {
    std::reverse(format_.bits_.begin() + next_.first, format_.bits_.end());
  }
  next_.max = (std::int64_t{1} << node.bits.size()) - 1;
  return set_style(node);
}

FormatBuilder::Fault FormatBuilder::add_built_in(const TemplateNode& node) {
  if (node.text == "#sequence") {
    next_.kind = ItemKind::kSequence;
  } else if (node.text == "#uptime_ms") {
    next_.kind = ItemKind::kUptime;
  } else if (node.text == "#name" || node.text == "#id" || node.text.starts_with("#value")) {
    return fault_at(node.column, braced(node.text), "that only in a line with `each`");
  } else {
    return fault_at(node.column, braced(node.text), "`{#sequence}` or `{#uptime_ms}`");
  }
  bool& has = node.text == "#sequence" ? format_.has_sequence_ : format_.has_uptime_;
  if (has) return fault_at(node.column, braced(node.text) + " a second time", "each once");
  has = true;
  next_.max = kCounterMax;
  const NumberStyle& style = node.style;
  if (style.width_exact) {
    const std::uint64_t base = style.notation == Notation::kDecimal ? 10 : 16;
    std::uint64_t wrap = 1;
    for (int digit = 0; digit < style.width && wrap <= kCounterMax; ++digit) wrap *= base;
    next_.max = std::min<std::int64_t>(kCounterMax, static_cast<std::int64_t>(wrap - 1));
  }
  return set_style(node);
}

FormatBuilder::Fault FormatBuilder::set_style(const TemplateNode& node) {
  const NumberStyle& style = node.style;
  next_.notation = style.notation;
  next_.width = static_cast<std::uint8_t>(style.width);
  next_.width_exact = style.width_exact;
  next_.short_decimals = style.short_decimals;
  next_.span = static_cast<std::uint64_t>(next_.max - next_.min);
  if (style.notation != Notation::kDecimal) {
    if (next_.min < 0 || next_.decimals > 0) {
      return fault_at(node.column,
                      "hexadecimal for " + braced(node.text) + ", which has " +
                          (next_.min < 0 ? "negative numbers" : "decimals"),
                      "whole numbers from 0 on");
    }
    if (style.width > 16) return fault_at(node.column, "more than 16 digits", "at most 16");
  }
  if (style.short_decimals && next_.decimals == 0) {
    return fault_at(node.column, "`short` for " + braced(node.text) + ", a whole number",
                    "a field with decimals");
  }
  if (style.width_exact && longest_bytes(next_) > next_.width) {
    return fault_at(
        node.column, "a width of " + std::to_string(style.width) + " for " + braced(node.text),
        "at least " + std::to_string(longest_bytes(next_)) + ", sign and point included");
  }
  return std::nullopt;
}

// `as` is a template of its own with {HEX}, {hex} or {dec} for its only place.
FormatBuilder::Fault FormatBuilder::add_check() {
  if (!options_.check) return std::nullopt;
  const CheckSpec& spec = *options_.check;
  const auto nodes = parse_template(spec.as);
  CheckItem& check = format_.check_;
  check.present = true;
  check.kind = spec.kind;
  bool has_digits = false;
  std::string before, after;
  for (const TemplateNode& node : nodes ? nodes.value() : std::vector<TemplateNode>()) {
    if (node.kind == TemplateNode::Kind::kText) {
      (has_digits ? after : before) += node.text;
      continue;
    }
    const bool hex = node.text == "HEX" || node.text == "hex";
    if (has_digits || !(hex || node.text == "dec") || !node.style.is_default()) {
      has_digits = false;
      break;
    }
    has_digits = true;
    check.digits = static_cast<std::uint8_t>(hex ? check_bits(spec.kind) / 4 : 0);
    check.notation = !hex                 ? Notation::kDecimal
                     : node.text == "HEX" ? Notation::kHexUpper
                                          : Notation::kHexLower;
  }
  if (!has_digits) {
    return fault_at(0, "a check written as `" + spec.as + "`",
                    "text with one of {HEX}, {hex} or {dec} in it");
  }
  check.before_at = static_cast<std::uint32_t>(format_.literals_.size());
  check.before_bytes = static_cast<std::uint32_t>(before.size());
  check.after_at = check.before_at + check.before_bytes;
  check.after_bytes = static_cast<std::uint32_t>(after.size());
  format_.literals_ += before + after;
  check.begin_state = begin_check(spec.kind);
  if (spec.covers == CheckCovers::kStartAndText) {
    check.begin_state = add_to_check(spec.kind, check.begin_state, options_.framing.starts);
  }
  return std::nullopt;
}

void FormatBuilder::measure() {
  std::size_t least = 0;
  std::size_t most = 0;
  for (const LineItem& item : format_.items_) {
    least += item.text_bytes;
    most += item.text_bytes;
    if (item.kind == ItemKind::kEnd) continue;
    if (item.kind == ItemKind::kWord) {
      const auto words = std::span(format_.words_).subspan(item.first, item.count);
      const auto by_size = [](const auto& a, const auto& b) { return a.size() < b.size(); };
      least += std::min_element(words.begin(), words.end(), by_size)->size();
      most += std::max_element(words.begin(), words.end(), by_size)->size();
    } else {
      least += least_bytes(item);
      most += longest_bytes(item);
    }
  }
  const CheckItem& check = format_.check_;
  if (check.present) {
    const std::size_t digits =
        check.digits > 0 ? check.digits
                         : static_cast<std::size_t>(
                               count_digits((std::uint64_t{1} << check_bits(check.kind)) - 1));
    least += check.before_bytes + check.after_bytes + (check.digits > 0 ? check.digits : 1);
    most += check.before_bytes + check.after_bytes + digits;
  }
  format_.line_bytes_min_ = least;
  format_.line_bytes_max_ = most;
}

Outcome<LineFormat> LineFormat::compile(const LineFormatOptions& options) {
  if (auto fault = find_fault_in_framing(options.framing)) return *fault;
  if (auto fault = find_fault_in_catalogue(options.catalogue)) return *fault;
  const auto nodes = parse_template(options.text);
  if (!nodes) return nodes.error();
  return FormatBuilder(options).build(nodes.value(), std::string(options.text));
}

}  // namespace understudy::protocol
