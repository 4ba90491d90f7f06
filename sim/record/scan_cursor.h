// A cursor over one line of canonical JSON: goes forward only and gives up at the first byte that
// it did not expect. Knows texts, numbers and digests, no event.
#pragma once

#include <array>
#include <bit>
#include <cstddef>
#include <cstdint>
#include <cstring>
#include <string>
#include <string_view>

#include "sim/base/text.h"

namespace understudy {

// What follows a backslash, and the byte it stands for; 0: not canonical (or `u`).
inline constexpr std::array<char, 256> kUnescaped = [] {
  std::array<char, 256> table{};
  table['b'] = '\b';
  table['t'] = '\t';
  table['n'] = '\n';
  table['f'] = '\f';
  table['r'] = '\r';
  table['"'] = '"';
  table['\\'] = '\\';
  return table;
}();

inline int hex_value(char c) {
  if (c >= '0' && c <= '9') return c - '0';
  if (c >= 'a' && c <= 'f') return c - 'a' + 10;
  return -1;
}

// Eight bytes in a word, the first one lowest; good on machines that keep words so.
inline constexpr bool kFirstByteLowest = std::endian::native == std::endian::little;

inline std::uint64_t word_at(const char* at) {
  std::uint64_t word = 0;
  std::memcpy(&word, at, sizeof word);
  return word;
}

constexpr std::uint64_t each_byte(std::uint64_t byte) {
  return byte * 0x0101010101010101ULL;
}

// True where eight digits stand at `at`; `value` is then their number. Pairs are joined to numbers
// of two digits, then of four, then of eight, each with one multiplication.
inline bool eight_digits(const char* at, std::int64_t& value) {
  if (!kFirstByteLowest) return false;
  std::uint64_t word = word_at(at);
  const std::uint64_t above_nine = word + each_byte(0x06);
  if ((word & each_byte(0xf0)) != each_byte(0x30)) return false;
  if ((above_nine & each_byte(0xf0)) != each_byte(0x30)) return false;
  word &= each_byte(0x0f);
  word = (word * 10 + (word >> 8)) & 0x00ff00ff00ff00ffULL;
  word = (word * 100 + (word >> 16)) & 0x0000ffff0000ffffULL;
  value = static_cast<std::int64_t>((word * 10'000 + (word >> 32)) & 0xffffffffULL);
  return true;
}

// True where none of the eight bytes at `at` is a quote, a backslash, a control or beyond ASCII. A
// byte is found by what borrowing from its highest bit leaves.
inline bool eight_plain(const char* at) {
  const std::uint64_t word = word_at(at);
  const std::uint64_t quote = word ^ each_byte('"');
  const std::uint64_t backslash = word ^ each_byte('\\');
  const std::uint64_t found =
      (word - each_byte(0x20)) | (quote - each_byte(1)) | (backslash - each_byte(1)) | word;
  return (found & each_byte(0x80)) == 0;
}

// What a call has taken is gone even where it then gives up, so a line is scanned once.
class ScanCursor {
 public:
  explicit ScanCursor(std::string_view line) : at_(line.data()), end_(at_ + line.size()) {}

  [[nodiscard]] bool done() const { return at_ == end_; }
  [[nodiscard]] char peek() const { return at_ < end_ ? *at_ : '\0'; }

  template <std::size_t N>
  bool take(const char (&text)[N]) {
    constexpr std::size_t kSize = N - 1;
    if (static_cast<std::size_t>(end_ - at_) < kSize || std::memcmp(at_, text, kSize) != 0)
      return false;
    at_ += kSize;
    return true;
  }

  // A whole number of at most 18 digits, written as numbers are written; longer ones are rare
  // enough for the slow path.
  bool take_number(std::int64_t& number) {
    const bool negative = peek() == '-';
    if (negative) ++at_;
    const char* const begin = at_;
    std::int64_t value = 0;
    if (end_ - at_ >= 8 && eight_digits(at_, value)) at_ += 8;
    while (is_digit(peek()) && at_ - begin < kDigitsMax) value = value * 10 + (*at_++ - '0');
    const auto digits = at_ - begin;
    if (digits == 0 || is_digit(peek()) || (digits > 1 && *begin == '0')) return false;
    if (negative && value == 0) return false;
    number = negative ? -value : value;
    return true;
  }

  // Sixteen small hexadecimal digits.
  bool take_digest(std::uint64_t& digest) {
    if (end_ - at_ < 16) return false;
    std::uint64_t value = 0;
    for (int i = 0; i < 16; ++i) {
      const int digit = hex_value(*at_++);
      if (digit < 0) return false;
      value = value << 4 | static_cast<std::uint64_t>(digit);
    }
    digest = value;
    return true;
  }

  bool take_truth(bool& truth) {
    truth = take("true");
    return truth || take("false");
  }

  // Up to and with the closing quote; not for texts with escapes or bytes beyond ASCII.
  bool take_plain(std::string_view& text) {
    const char* const begin = at_;
    for (; at_ < end_; ++at_) {
      const auto byte = static_cast<unsigned char>(*at_);
      if (byte == '"') {
        text = {begin, static_cast<std::size_t>(at_ - begin)};
        ++at_;
        return true;
      }
      if (byte == '\\' || byte < 0x20 || byte >= 0x80) return false;
    }
    return false;
  }

  // Exactly this text, where it stands there.
  bool take_view(std::string_view text) {
    if (static_cast<std::size_t>(end_ - at_) < text.size() ||
        std::memcmp(at_, text.data(), text.size()) != 0)
      return false;
    at_ += text.size();
    return true;
  }

  // The raw inside of a string with its closing quote.
  bool take_raw(std::string_view& text) {
    const char* const begin = at_;
    for (; at_ < end_; ++at_) {
      if (*at_ == '"') {
        ++at_;
        text = {begin, static_cast<std::size_t>(at_ - begin)};
        return true;
      }
      if (*at_ == '\\' && ++at_ == end_) return false;
    }
    return false;
  }

  // A string with escapes, unquoted into `room`, up to and with the closing quote.
  bool take_text(std::string& room, std::string_view& text) {
    const auto left = static_cast<std::size_t>(end_ - at_);
    if (room.size() < left) room.resize(left * 2);
    char* to = room.data();
    unsigned char all = 0;
    while (at_ < end_) {
      while (end_ - at_ >= 8 && eight_plain(at_)) {
        std::memcpy(to, at_, 8);
        at_ += 8;
        to += 8;
      }
      if (at_ == end_) return false;
      const char c = *at_++;
      if (c == '"') {
        text = {room.data(), static_cast<std::size_t>(to - room.data())};
        return all < 0x80 || is_valid_utf8(text);
      }
      if (c == '\\') {
        if (!take_escape(*to)) return false;
        ++to;
        continue;
      }
      if (static_cast<unsigned char>(c) < 0x20) return false;
      all |= static_cast<unsigned char>(c);
      *to++ = c;
    }
    return false;
  }

  // Pairs of hexadecimal digits, up to and with the closing quote.
  bool take_hex(std::string& room, std::string_view& bytes) {
    const auto left = static_cast<std::size_t>(end_ - at_);
    if (room.size() < left) room.resize(left * 2);
    char* to = room.data();
    while (end_ - at_ >= 2 && *at_ != '"') {
      const int high = hex_value(at_[0]);
      const int low = hex_value(at_[1]);
      if (high < 0 || low < 0) return false;
      *to++ = static_cast<char>(high << 4 | low);
      at_ += 2;
    }
    bytes = {room.data(), static_cast<std::size_t>(to - room.data())};
    return take("\"");
  }

 private:
  // A number of so many digits fits into 64 bits, whichever they are.
  static constexpr std::ptrdiff_t kDigitsMax = 18;
  static bool is_digit(char c) { return c >= '0' && c <= '9'; }

  bool take_escape(char& byte) {
    if (at_ == end_) return false;
    const char c = *at_++;
    if (c != 'u') return (byte = kUnescaped[static_cast<unsigned char>(c)]) != 0;
    if (end_ - at_ < 4 || at_[0] != '0' || at_[1] != '0') return false;
    const int high = hex_value(at_[2]);
    const int low = hex_value(at_[3]);
    if (high < 0 || high > 1 || low < 0) return false;
    byte = static_cast<char>(high << 4 | low);
    at_ += 4;
    return true;
  }

  const char* at_;
  const char* end_;
};

}  // namespace understudy
