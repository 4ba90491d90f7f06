// Digits, fast: powers of ten, a table of digit pairs, and how many digits a number has.
// For the files of this folder; signs, points and widths are the callers' business.
#pragma once

#include <array>
#include <cstdint>
#include <cstring>

namespace understudy::protocol {

inline constexpr std::array<std::uint64_t, 20> kPowersOfTen = [] {
  std::array<std::uint64_t, 20> powers{};
  std::uint64_t power = 1;
  for (auto& entry : powers) {
    entry = power;
    power *= 10;
  }
  return powers;
}();

// "00", "01" ... "99", so that two digits are written at once.
inline constexpr std::array<char, 200> kDigitPairs = [] {
  std::array<char, 200> pairs{};
  for (int pair = 0; pair < 100; ++pair) {
    pairs[static_cast<std::size_t>(2 * pair)] = static_cast<char>('0' + pair / 10);
    pairs[static_cast<std::size_t>(2 * pair + 1)] = static_cast<char>('0' + pair % 10);
  }
  return pairs;
}();

// 1 for 0..9, 2 for 10..99 and so on, up to 20.
inline int count_digits(std::uint64_t number) {
  int digits = 1;
  while (digits < 20 && number >= kPowersOfTen[static_cast<std::size_t>(digits)]) ++digits;
  return digits;
}

inline int count_hex_digits(std::uint64_t number) {
  int digits = 1;
  while (number >>= 4) ++digits;
  return digits;
}

// Writes exactly `digits` digits, zeros in front where the number has fewer.
inline void put_digits(char* out, std::uint64_t number, int digits) {
  while (digits >= 2) {
    digits -= 2;
    std::memcpy(out + digits, &kDigitPairs[number % 100 * 2], 2);
    number /= 100;
  }
  if (digits == 1) out[0] = static_cast<char>('0' + number % 10);
}

// Writes the number as short as possible; returns its digits. Most numbers on such lines are
// below 10000, so those go without loops.
inline int put_short(char* out, std::uint64_t number) {
  if (number < 10) {
    out[0] = static_cast<char>('0' + number);
    return 1;
  }
  if (number < 100) {
    std::memcpy(out, &kDigitPairs[number * 2], 2);
    return 2;
  }
  if (number < 10000) {
    const std::uint64_t high = number / 100;
    const std::uint64_t low = number % 100;
    if (high < 10) {
      out[0] = static_cast<char>('0' + high);
      std::memcpy(out + 1, &kDigitPairs[low * 2], 2);
      return 3;
    }
    std::memcpy(out, &kDigitPairs[high * 2], 2);
    std::memcpy(out + 2, &kDigitPairs[low * 2], 2);
    return 4;
  }
  const int digits = count_digits(number);
  put_digits(out, number, digits);
  return digits;
}

inline void put_hex(char* out, std::uint64_t number, int digits, bool upper) {
  const char* table = upper ? "0123456789ABCDEF" : "0123456789abcdef";
  for (int at = digits - 1; at >= 0; --at) {
    out[at] = table[number & 15];
    number >>= 4;
  }
}

inline bool is_digit(char byte) {
  return static_cast<unsigned char>(byte - '0') < 10;
}

}  // namespace understudy::protocol
