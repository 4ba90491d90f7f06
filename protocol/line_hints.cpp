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
    return item.kind != ItemKind::End && item.kind != ItemKind::Word;
  }));
}

// Whether a whole line begins somewhere in what was found: the end between two lines got lost.
bool LineFormat::runs_together(const LineFault& fault, std::string_view line) const {
  const std::size_t from = fault.column - 1;
  const auto begins_at = [&](std::size_t at) {
    return read(line.substr(at), nullptr, nullptr).kind == LineFaultKind::None;
  };
  if (fault.kind == LineFaultKind::GoesOn) return begins_at(from);
  // Else the last number has swallowed the beginning of the next line; with a single number in a
  // line that cannot be told from a number that is too large.
  const bool swallowed =
      fault.kind == LineFaultKind::OutOfRange || fault.kind == LineFaultKind::LeadingZeros;
  if (!swallowed || number_places() < 2) return false;
  for (std::size_t at = from + 1; at < from + fault.found_bytes; ++at) {
    if (begins_at(at)) return true;
  }
  return false;
}

LineHint LineFormat::guess_why(const LineFault& fault, std::string_view line) const {
  if (fault.column == 0 || fault.kind == LineFaultKind::EndsEarly) {
    return LineHint::None;
  }
  if (!std::all_of(line.begin(), line.end(), is_text)) return LineHint::NotText;
  const std::size_t at = fault.column - 1;
  const char found = at < line.size() ? line[at] : '\0';
  const char next = at + 1 < line.size() ? line[at + 1] : '\0';
  const bool is_last = at + 1 == line.size();
  if (found == '\r' && is_last) return LineHint::CarriageReturn;
  if (runs_together(fault, line)) return LineHint::RunTogether;
  const std::size_t places = number_places();
  if (places > 0 && count_numbers(line) == 2 * places && line.find(',') != line.npos) {
    return LineHint::DecimalsWithComma;
  }
  const bool number_before = at > 0 && is_digit(line[at - 1]);
  switch (fault.kind) {
    case LineFaultKind::NotANumber:
      if (found == '+') return LineHint::PlusSign;
      if (found == ' ' || found == '\t') return LineHint::Spaces;
      break;
    case LineFaultKind::WrongText:
    case LineFaultKind::GoesOn:
      if (found == '.' && number_before && is_digit(next)) return LineHint::DecimalsUnexpected;
      if (fault.kind == LineFaultKind::GoesOn) {
        if (is_last && is_separator(found) && found != ' ') return LineHint::TrailingSeparator;
        if (found == ' ' || found == '\t') return LineHint::Spaces;
        break;
      }
      if (fault.place < items_.size()) {
        const LineItem& item = items_[fault.place];
        if (item.text_bytes > 0 && is_separator(item.text_first) && is_separator(found)) {
          const bool space = found == ' ' && next == item.text_first;
          return space ? LineHint::Spaces : LineHint::AnotherSeparator;
        }
      }
      break;
    case LineFaultKind::WrongDecimals: {
      const std::size_t after = at + fault.found_bytes;
      const bool comma = after + 1 < line.size() && line[after] == ',' && is_digit(line[after + 1]);
      const bool belongs =
          fault.place + 1u < items_.size() && items_[fault.place + 1].text_first == ',';
      if (comma && !belongs) return LineHint::CommaForPoint;
      break;
    }
    case LineFaultKind::UnknownWord: {
      const LineItem& item = items_[fault.place];
      const std::string_view thing = line.substr(at, fault.found_bytes);
      for (std::size_t word = 0; word < item.count; ++word) {
        if (equal_but_for_case(words_[item.first + word], thing)) return LineHint::LetterCase;
      }
      if (found == ' ' || found == '\t') return LineHint::Spaces;
      break;
    }
    default:
      break;
  }
  return LineHint::None;
}

}  // namespace understudy::protocol
