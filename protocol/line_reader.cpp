// Reads lines, strictly: a line is read if and only if encode could have made it.
// Why a line may be wrong is guessed in line_hints.cpp, and said in line_sentence.cpp.
#include <algorithm>

#include "protocol/digits.h"
#include "protocol/line_format.h"

namespace understudy::protocol {

namespace {

unsigned digit_of(char byte) {
  return static_cast<unsigned char>(byte - '0');
}

// 99 for what is no digit of a hexadecimal notation.
unsigned digit_of(char byte, Notation notation) {
  const unsigned digit = digit_of(byte);
  if (digit < 10 || notation == Notation::kDecimal) return digit;
  const char letter = notation == Notation::kHexUpper ? 'A' : 'a';
  const unsigned high = static_cast<unsigned char>(byte - letter);
  return high < 6 ? high + 10 : 99;
}

// A whole number as short as possible, in the item's range; nullptr if that is not what stands
// there, else the byte behind it.
inline const char* read_plain(const LineItem& item, const char* at, const char* end,
                              std::int64_t& value) {
  if (at == end) return nullptr;
  const bool negative = *at == '-';
  if (negative && ++at == end) return nullptr;
  std::uint64_t number = digit_of(*at++);
  if (number - 1 < 9) {
    const char* const second = at;
    for (unsigned digit; at != end && (digit = digit_of(*at)) < 10; ++at) {
      number = number * 10 + digit;
    }
    // Nineteen digits are in no range, and from twenty on they may have wrapped into one.
    if (at - second > 17) return nullptr;
    if (negative) number = 0 - number;
  } else if (number > 9 || negative || (at != end && digit_of(*at) < 10)) {
    return nullptr;
  }
  value = static_cast<std::int64_t>(number);
  return number - static_cast<std::uint64_t>(item.min) <= item.span ? at : nullptr;
}

}  // namespace

// One reading of one line. Stores nowhere when values is null.
class LineReader {
 public:
  LineReader(const LineFormat& format, std::string_view line, std::int64_t* values,
             BuiltIns* built_ins)
      : format_(format),
        begin_(line.data()),
        at_(begin_),
        end_(begin_ + line.size()),
        values_(values),
        built_ins_(built_ins) {}

  // Goes on with the item of that index at that byte.
  LineFault read_from(std::size_t index, const char* from) {
    at_ = from;
    for (; index < format_.items_.size(); ++index) {
      const LineItem& item = format_.items_[index];
      if (item.text_bytes == 1) {
        if (at_ == end_ || *at_ != item.text_first) return text_fault(item);
        ++at_;
      } else if (item.text_bytes > 1 && !skip(format_.text_before(item))) {
        return text_fault(item);
      }
      if (item.kind == ItemKind::kPlain) {
        std::int64_t value = 0;
        const char* const after = read_plain(item, at_, end_, value);
        if (after == nullptr) return number_fault(item);
        at_ = after;
        store(item.field, value);
      } else if (item.kind == ItemKind::kEnd) {
        continue;
      } else if (item.kind == ItemKind::kWord) {
        if (!read_word(item)) return word_fault(item);
      } else {
        if (!read_number(item)) return fault_;
      }
    }
    place_ = static_cast<std::uint16_t>(format_.items_.size());
    if (format_.check_.present) return read_check();
    if (at_ != end_) return fault(LineFaultKind::kGoesOn, at_, end_);
    return {};
  }

  // From the beginning, up to the first place that cannot be read.
  std::vector<LinePlace> places() {
    std::vector<LinePlace> found;
    for (const LineItem& item : format_.items_) {
      if (!skip(format_.text_before(item)) || item.kind == ItemKind::kEnd) break;
      const char* const from = at_;
      const bool read = item.kind == ItemKind::kWord ? read_word(item) : read_number(item);
      if (!read) break;
      const bool has_field = item.kind == ItemKind::kPlain || item.kind == ItemKind::kNumber ||
                             item.kind == ItemKind::kWord;
      found.push_back({static_cast<std::uint32_t>(from - begin_),
                       static_cast<std::uint32_t>(at_ - from),
                       has_field ? static_cast<std::int32_t>(item.field) : kNoField});
    }
    return found;
  }

 private:
  void store(std::uint16_t field, std::int64_t value) {
    if (values_ != nullptr) values_[field] = value;
  }

  bool read_word(const LineItem& item) {
    const std::string_view rest(at_, static_cast<std::size_t>(end_ - at_));
    std::size_t longest = 0;
    std::size_t found = 0;
    for (std::size_t word = 0; word < item.count; ++word) {
      const std::string& text = format_.words_[item.first + word];
      if (text.size() > longest && rest.starts_with(text)) {
        longest = text.size();
        found = word;
      }
    }
    if (longest == 0) return false;
    at_ += longest;
    store(item.field, item.min + static_cast<std::int64_t>(found));
    return true;
  }

  // Digits of a notation, up to `limit`; numbers too large stay just above the largest allowed.
  struct DigitRun {
    std::uint64_t number = 0;
    std::ptrdiff_t count = 0;
  };
  static DigitRun take_digits(const char*& at, const char* limit, Notation notation,
                              std::uint64_t number) {
    DigitRun run{.number = number};
    const unsigned base = notation == Notation::kDecimal ? 10 : 16;
    for (unsigned digit; at != limit && (digit = digit_of(*at, notation)) < base; ++at) {
      run.number = std::min<std::uint64_t>(run.number * base + digit, kWireNumberMax + 1);
      ++run.count;
    }
    return run;
  }

  // Number, Bits, Sequence, Uptime. On false fault_ is set.
  bool read_number(const LineItem& item) {
    const char* const begin = at_;
    const char* limit = end_;
    if (item.width_exact && end_ - begin > item.width) limit = begin + item.width;
    const bool negative = begin != limit && *begin == '-' && item.notation == Notation::kDecimal;
    const char* at = begin + (negative ? 1 : 0);
    const char* const digits = at;
    DigitRun run = take_digits(at, limit, item.notation, 0);
    if (run.count == 0) return missing_number(item);
    const std::ptrdiff_t whole = run.count;
    int decimals = 0;
    if (item.decimals > 0) {
      if (!read_decimals(item, at, limit, run, decimals)) {
        return spoil(item, LineFaultKind::kWrongDecimals, begin, end_of_number(at));
      }
    }
    if (item.width > 0 && at - begin < item.width) {
      return spoil(item, LineFaultKind::kWrongWidth, begin, at);
    }
    const bool zeros_to_spare = *digits == '0' && whole > 1 && at - begin != item.width;
    std::uint64_t size = run.number;
    if (zeros_to_spare || (negative && size == 0)) {
      return spoil(item, LineFaultKind::kLeadingZeros, begin, at);
    }
    for (; decimals < item.decimals && size <= kWireNumberMax; ++decimals) size *= 10;
    if (size > kWireNumberMax) return spoil(item, LineFaultKind::kOutOfRange, begin, at);
    const auto number = static_cast<std::int64_t>(negative ? 0 - size : size);
    if (number < item.min || number > item.max) {
      return spoil(item, LineFaultKind::kOutOfRange, begin, at);
    }
    at_ = at;
    store_number(item, number);
    return true;
  }

  // The point and what follows; run.number goes on to grow.
  static bool read_decimals(const LineItem& item, const char*& at, const char* limit, DigitRun& run,
                            int& decimals) {
    if (at == limit || *at != '.') return item.short_decimals;
    const char* const point = at++;
    const char* const most = limit - at > item.decimals ? at + item.decimals : limit;
    run = take_digits(at, most, Notation::kDecimal, run.number);
    decimals = static_cast<int>(at - point) - 1;
    if (at != limit && is_digit(*at)) return false;
    if (item.short_decimals) return decimals > 0 && at[-1] != '0';
    return decimals == item.decimals;
  }

  void store_number(const LineItem& item, std::int64_t number) {
    if (item.kind == ItemKind::kNumber || item.kind == ItemKind::kPlain) {
      store(item.field, number);
    } else if (item.kind == ItemKind::kBits) {
      for (std::size_t bit = 0; bit < item.count; ++bit) {
        store(format_.bits_[item.first + bit], number >> bit & 1);
      }
    } else if (built_ins_ != nullptr) {
      auto& count = item.kind == ItemKind::kSequence ? built_ins_->sequence : built_ins_->uptime_ms;
      count = static_cast<std::uint64_t>(number);
    }
  }

  LineFault read_check() {
    const CheckItem& check = format_.check_;
    const std::string_view literals = format_.literals_;
    const std::string_view text(begin_, static_cast<std::size_t>(at_ - begin_));
    const std::uint32_t value =
        finish_check(check.kind, add_to_check(check.kind, check.begin_state, text));
    const std::string_view before = literals.substr(check.before_at, check.before_bytes);
    if (!skip(before)) return check_text_fault(before);
    char digits[12];
    int count = check.digits;
    if (count > 0) {
      put_hex(digits, value, count, check.notation == Notation::kHexUpper);
    } else {
      count = put_short(digits, value);
    }
    const char* const begin = at_;
    if (!skip({digits, static_cast<std::size_t>(count)})) {
      if (begin == end_) return fault(LineFaultKind::kEndsEarly, end_, end_);
      LineFault wrong = fault(LineFaultKind::kWrongCheck, begin, end_of_check(begin));
      wrong.detail = value;
      return wrong;
    }
    const std::string_view after = literals.substr(check.after_at, check.after_bytes);
    if (!skip(after)) {
      // More digits than the decimal check has are a wrong check, not wrong text.
      if (check.digits == 0 && at_ != end_ && is_digit(*at_)) {
        LineFault wrong = fault(LineFaultKind::kWrongCheck, begin, end_of_check(begin));
        wrong.detail = value;
        return wrong;
      }
      return check_text_fault(after);
    }
    if (at_ != end_) return fault(LineFaultKind::kGoesOn, at_, end_);
    return {};
  }

  bool skip(std::string_view text) {
    if (static_cast<std::size_t>(end_ - at_) < text.size()) return false;
    if (std::string_view(at_, text.size()) != text) return false;
    at_ += text.size();
    return true;
  }

  // --- faults: only reached when a line is spoiled -------------------------------------------

  LineFault fault(LineFaultKind kind, const char* from, const char* to) const {
    LineFault fault;
    fault.kind = kind;
    fault.place = place_;
    fault.column = static_cast<std::uint32_t>(from - begin_) + 1;
    fault.found_bytes = static_cast<std::uint32_t>(to - from);
    return fault;
  }

  LineFault fault_in(const LineItem& item, LineFaultKind kind, const char* from, const char* to) {
    note_place(item);
    LineFault spoiled = fault(kind, from, to);
    const bool has_field = item.kind == ItemKind::kPlain || item.kind == ItemKind::kNumber ||
                           item.kind == ItemKind::kWord;
    if (has_field) spoiled.field = item.field;
    return spoiled;
  }

  void note_place(const LineItem& item) {
    place_ = static_cast<std::uint16_t>(&item - format_.items_.data());
  }

  bool spoil(const LineItem& item, LineFaultKind kind, const char* from, const char* to) {
    fault_ = fault_in(item, kind, from, to);
    return false;
  }

  bool missing_number(const LineItem& item) {
    fault_ = nothing_there(item, LineFaultKind::kNotANumber);
    return false;
  }

  LineFault nothing_there(const LineItem& item, LineFaultKind kind) {
    if (at_ == end_) return fault_in(item, LineFaultKind::kEndsEarly, end_, end_);
    return fault_in(item, kind, at_, end_of_thing(item));
  }

  LineFault word_fault(const LineItem& item) {
    return nothing_there(item, LineFaultKind::kUnknownWord);
  }

  // Up to where the next fixed text begins, or the end.
  const char* end_of_thing(const LineItem& item) const {
    const std::size_t next = static_cast<std::size_t>(&item - format_.items_.data()) + 1;
    if (next >= format_.items_.size() || format_.items_[next].text_bytes == 0) return end_;
    const char* stop = std::find(at_, end_, format_.items_[next].text_first);
    return stop == at_ ? at_ + 1 : stop;
  }

  // Digits and what belongs to a number in some way of writing.
  const char* end_of_number(const char* at) const {
    while (at != end_ && (is_digit(*at) || *at == '.')) ++at;
    return at;
  }

  const char* end_of_check(const char* at) const {
    const CheckItem& check = format_.check_;
    if (check.digits > 0) return end_ - at > check.digits ? at + check.digits : end_;
    const char* stop = at;
    while (stop != end_ && is_digit(*stop)) ++stop;
    return stop == at ? at + 1 : stop;
  }

  // What kept read_plain from reading the number at at_.
  LineFault number_fault(const LineItem& item) {
    const char* const digits = at_ + (at_ != end_ && *at_ == '-' ? 1 : 0);
    const char* at = digits;
    while (at != end_ && is_digit(*at)) ++at;
    if (at == digits) return nothing_there(item, LineFaultKind::kNotANumber);
    const bool zeros = *digits == '0' && (at - digits > 1 || digits != at_);
    return fault_in(item, zeros ? LineFaultKind::kLeadingZeros : LineFaultKind::kOutOfRange, at_,
                    at);
  }

  // The first byte of the text before an item that is another one.
  LineFault text_fault(const LineItem& item) {
    note_place(item);
    return first_difference(format_.text_before(item),
                            item.kind != ItemKind::kEnd ? &item : nullptr);
  }

  LineFault check_text_fault(std::string_view text) { return first_difference(text, nullptr); }

  LineFault first_difference(std::string_view text, const LineItem* item) {
    const char* at = at_;
    std::size_t same = 0;
    while (at != end_ && same < text.size() && *at == text[same]) ++at, ++same;
    if (at != end_) return fault(LineFaultKind::kWrongText, at, at + 1);
    if (item != nullptr) return fault_in(*item, LineFaultKind::kEndsEarly, end_, end_);
    return fault(LineFaultKind::kEndsEarly, end_, end_);
  }

  const LineFormat& format_;
  const char* begin_;
  const char* at_;
  const char* end_;
  std::int64_t* values_;
  BuiltIns* built_ins_;
  LineFault fault_;
  std::uint16_t place_ = 0;
};

// Most lines are whole numbers with one byte between them; this far it goes without a reader.
LineFault LineFormat::read(std::string_view line, std::int64_t* values, BuiltIns* built_ins) const {
  const char* at = line.data();
  const char* const end = at + line.size();
  const LineItem* item = items_.data();
  const LineItem* const last = item + items_.size();
  for (; item != last && item->kind == ItemKind::kPlain && item->text_bytes <= 1; ++item) {
    const char* number = at;
    if (item->text_bytes == 1 && (at == end || *number++ != item->text_first)) break;
    std::int64_t value = 0;
    const char* const after = read_plain(*item, number, end, value);
    if (after == nullptr) break;
    at = after;
    if (values != nullptr) values[item->field] = value;
  }
  if (item == last && at == end && !check_.present) return {};
  const auto index = static_cast<std::size_t>(item - items_.data());
  return LineReader(*this, line, values, built_ins).read_from(index, at);
}

std::vector<LinePlace> LineFormat::places(std::string_view line) const {
  return LineReader(*this, line, nullptr, nullptr).places();
}

Decoded LineFormat::decode(std::string_view line, std::span<std::int64_t> values,
                           BuiltIns* built_ins) const {
  // Made in place: copying the few bytes of a fault would cost a fifth of the time of reading.
  Decoded decoded{values.size() < catalogue_fields_ ? LineFault{.kind = LineFaultKind::kNoRoom}
                                                    : read(line, values.data(), built_ins)};
  if (!decoded.ok()) decoded.fault.hint = guess_why(decoded.fault, line);
  return decoded;
}

}  // namespace understudy::protocol
