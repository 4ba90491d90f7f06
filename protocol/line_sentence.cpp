// Says in one plain sentence what is wrong with a line. Allocates only in sentence().
#include <array>

#include "protocol/line_format.h"
#include "protocol/line_text.h"
#include "protocol/sentence_writer.h"

namespace understudy::protocol {
namespace {

// A wire number as it is written with its point: 53 with two decimals is 0.53.
void write_wire_number(SentenceWriter& out, std::int64_t number, int decimals) {
  if (decimals == 0) {
    out.number(number);
    return;
  }
  const auto unit = static_cast<std::int64_t>(kPowersOfTen[static_cast<std::size_t>(decimals)]);
  const std::int64_t size = number < 0 ? -number : number;
  if (number < 0) out.text("-");
  char digits[8];
  put_digits(digits, static_cast<std::uint64_t>(size % unit), decimals);
  out.number(size / unit).text(".").text({digits, static_cast<std::size_t>(decimals)});
}

void write_number_wanted(SentenceWriter& out, const LineItem& item) {
  if (item.notation != Notation::kDecimal) {
    out.text("a hexadecimal number");
  } else {
    out.text(item.decimals > 0 ? "a number" : "a whole number");
  }
  out.text(" from ");
  write_wire_number(out, item.min, item.decimals);
  out.text(" to ");
  write_wire_number(out, item.max, item.decimals);
  if (item.decimals > 0) {
    out.text(item.short_decimals ? " with at most " : " with ").number(item.decimals);
    out.text(item.decimals == 1 ? " decimal" : " decimals");
    if (item.short_decimals) out.text(", no zeros at the end");
  }
  if (item.width > 0) {
    out.text(item.width_exact ? " in exactly " : " in at least ").number(item.width);
    out.text(item.width == 1 ? " byte" : " bytes");
  }
}

}  // namespace

void LineFormat::write_wanted(SentenceWriter& out, const LineFault& fault) const {
  const bool in_text = fault.kind == LineFaultKind::kWrongText;
  if (fault.place >= items_.size()) {
    out.text(fault.kind == LineFaultKind::kGoesOn ? "the end of the line" : "the check");
    return;
  }
  const LineItem& item = items_[fault.place];
  if (in_text || item.kind == ItemKind::kEnd) {
    out.quoted(text_before(item));
    if (item.kind != ItemKind::kEnd) out.text(" and then ").text(names_[fault.place]);
    return;
  }
  if (item.kind != ItemKind::kWord) {
    write_number_wanted(out, item);
    return;
  }
  constexpr std::size_t kMostWords = 8;
  for (std::size_t word = 0; word < item.count && word < kMostWords; ++word) {
    if (word > 0) out.text(word + 1 == item.count ? " or " : ", ");
    out.quoted(words_[item.first + word]);
  }
  if (item.count > kMostWords) out.text(" and so on");
}

void LineFormat::write_place(SentenceWriter& out, const LineFault& fault) const {
  const bool in_text =
      fault.kind == LineFaultKind::kWrongText || fault.kind == LineFaultKind::kGoesOn;
  if (!in_text && fault.place < items_.size() && items_[fault.place].kind != ItemKind::kEnd) {
    out.text(names_[fault.place]).text(" (place ").number(fault.place + 1).text("), ");
  }
  out.text("column ").number(fault.column).text(": ");
}

std::size_t LineFormat::write_sentence(const LineFault& fault, std::string_view line,
                                       std::span<char> buffer) const {
  SentenceWriter out(buffer);
  if (fault.kind == LineFaultKind::kNone || fault.kind == LineFaultKind::kNoRoom) {
    return out.text(describe(fault.kind)).size();
  }
  const std::size_t at = std::min<std::size_t>(fault.column - 1, line.size());
  const std::string_view found = line.substr(at, fault.found_bytes);
  write_place(out, fault);
  if (fault.kind == LineFaultKind::kWrongCheck) {
    out.text("the check is ").quoted(found).text(", but the text gives ");
    char digits[12];
    const bool hex = check_.digits > 0;
    if (hex) put_hex(digits, fault.detail, check_.digits, check_.notation == Notation::kHexUpper);
    const int count = hex ? check_.digits : put_short(digits, fault.detail);
    return out.quoted({digits, static_cast<std::size_t>(count)}).size();
  }
  if (found.empty()) {
    out.text("the line ends");
  } else {
    out.text("found ").quoted(found);
  }
  if (fault.kind == LineFaultKind::kLeadingZeros) {
    out.text(", expected the same without zeros in front or a minus before 0");
  } else {
    write_wanted(out.text(", expected "), fault);
  }
  if (fault.hint == LineHint::kDecimalsWithComma) {
    out.text("; ").number(static_cast<std::int64_t>(count_numbers(line))).text(" numbers for ");
    const std::size_t places = number_places();
    out.number(static_cast<std::int64_t>(places)).text(places == 1 ? " place: " : " places: ");
    out.text(describe(fault.hint));
  } else if (fault.hint != LineHint::kNone) {
    out.text("; ").text(describe(fault.hint));
  }
  return out.size();
}

std::string LineFormat::sentence(const LineFault& fault, std::string_view line) const {
  std::array<char, 1024> buffer;
  return std::string(buffer.data(), write_sentence(fault, line, buffer));
}

}  // namespace understudy::protocol
