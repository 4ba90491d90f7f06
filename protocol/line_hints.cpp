// Guesses why a line is wrong, by a second and slower look at it. What is wrong and where was
// found by line_reader.cpp.
#include <algorithm>

#include "protocol/digits.h"
#include "protocol/line_format.h"
#include "protocol/line_text.h"

namespace understudy::protocol {
namespace {

constexpr std::string_view kSeparators = ",;:|/\t ";

bool is_separator(char byte) {
  return kSeparators.find(byte) != std::string_view::npos;
}

bool is_text(char byte) {
  return (byte >= ' ' && byte <= '~') || byte == '\t' || byte == '\r';
}

char small_letter(char byte) {
  return byte >= 'A' && byte <= 'Z' ? static_cast<char>(byte - 'A' + 'a') : byte;
}

bool equal_but_for_case(std::string_view one, std::string_view other) {
  return std::equal(one.begin(), one.end(), other.begin(), other.end(),
                    [](char a, char b) { return small_letter(a) == small_letter(b); });
}

}  // namespace

std::size_t count_numbers(std::string_view line) {
  std::size_t count = 0;
  bool inside = false;
  for (const char byte : line) {
    const bool part = is_digit(byte) || (inside && byte == '.');
    if (part && !inside) ++count;
    inside = part;
  }
  return count;
}

std::size_t LineFormat::number_places() const {
  return static_cast<std::size_t>(std::count_if(items_.begin(), items_.end(), [](auto& item) {
    return item.kind != ItemKind::kEnd && item.kind != ItemKind::kWord;
  }));
}

// Whether a whole line begins somewhere in what was found: the end between two lines got lost.
bool LineFormat::runs_together(const LineFault& fault, std::string_view line) const {
  const std::size_t from = fault.column - 1;
  const auto begins_at = [&](std::size_t at) {
    return read(line.substr(at), nullptr, nullptr).kind == LineFaultKind::kNone;
  };
  if (fault.kind == LineFaultKind::kGoesOn) return begins_at(from);
  // Else the last number has swallowed the beginning of the next line; with a single number in a
  // line that cannot be told from a number that is too large.
  const bool swallowed =
      fault.kind == LineFaultKind::kOutOfRange || fault.kind == LineFaultKind::kLeadingZeros;
  if (!swallowed || number_places() < 2 || fault.place + 1u != items_.size()) return false;
  for (std::size_t at = from + 1; at < from + fault.found_bytes; ++at) {
    if (begins_at(at)) return true;
  }
  return false;
}

// Another text than the one between fields, or more after the last of them.
LineHint LineFormat::guess_why_text(const LineFault& fault, std::string_view line) const {
  const std::size_t at = fault.column - 1;
  const char found = line[at];
  const bool is_last = at + 1 == line.size();
  const char next = is_last ? '\0' : line[at + 1];
  const bool number_before = at > 0 && is_digit(line[at - 1]);
  if (found == '.' && number_before && is_digit(next)) return LineHint::kDecimalsUnexpected;
  if (fault.kind == LineFaultKind::kGoesOn) {
    if (found == ' ' || found == '\t') return LineHint::kSpaces;
    return is_last && is_separator(found) ? LineHint::kTrailingSeparator : LineHint::kNone;
  }
  // Behind the last item stands the check, whose text is no separator.
  if (fault.place >= items_.size() || !is_separator(found)) return LineHint::kNone;
  const LineItem& item = items_[fault.place];
  if (item.text_bytes == 0 || !is_separator(item.text_first)) return LineHint::kNone;
  return found == ' ' && next == item.text_first ? LineHint::kSpaces : LineHint::kAnotherSeparator;
}

// No number, no word, or one that is written otherwise.
LineHint LineFormat::guess_why_value(const LineFault& fault, std::string_view line) const {
  const std::size_t at = fault.column - 1;
  const std::string_view thing = line.substr(at, fault.found_bytes);
  const LineItem& item = items_[fault.place];
  if (fault.kind == LineFaultKind::kWrongDecimals) {
    const std::size_t after = at + thing.size();
    const bool comma = after + 1 < line.size() && line[after] == ',' && is_digit(line[after + 1]);
    const bool belongs = &item != &items_.back() && (&item + 1)->text_first == ',';
    return comma && !belongs ? LineHint::kCommaForPoint : LineHint::kNone;
  }
  for (std::size_t word = 0; item.kind == ItemKind::kWord && word < item.count; ++word) {
    if (equal_but_for_case(words_[item.first + word], thing)) return LineHint::kLetterCase;
  }
  if (thing[0] == ' ' || thing[0] == '\t') return LineHint::kSpaces;
  return thing[0] == '+' ? LineHint::kPlusSign : LineHint::kNone;
}

LineHint LineFormat::guess_why(const LineFault& fault, std::string_view line) const {
  if (fault.column == 0 || fault.kind == LineFaultKind::kEndsEarly) return LineHint::kNone;
  if (!std::all_of(line.begin(), line.end(), is_text)) return LineHint::kNotText;
  if (line.substr(fault.column - 1) == "\r") return LineHint::kCarriageReturn;
  if (runs_together(fault, line)) return LineHint::kRunTogether;
  const std::size_t places = number_places();
  if (places > 0 && count_numbers(line) == 2 * places && line.find(',') != line.npos) {
    return LineHint::kDecimalsWithComma;
  }
  switch (fault.kind) {
    case LineFaultKind::kWrongText:
    case LineFaultKind::kGoesOn:
      return guess_why_text(fault, line);
    case LineFaultKind::kNotANumber:
    case LineFaultKind::kWrongDecimals:
    case LineFaultKind::kUnknownWord:
      return guess_why_value(fault, line);
    default:
      return LineHint::kNone;
  }
}

}  // namespace understudy::protocol
