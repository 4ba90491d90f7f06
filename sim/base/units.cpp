// Reads and writes quantities digit by digit, in whole numbers: no locale, no rounding surprises.
#include "sim/base/units.h"

#include <array>
#include <span>

namespace understudy {
namespace {

// One suffix and how many smallest parts it stands for; the first of a unit is the bare number's.
struct Suffix {
  std::string_view text;
  std::int64_t parts;
};

constexpr std::array kTimes = {Suffix{"ns", 1},          Suffix{"us", 1'000},
                               Suffix{"ms", 1'000'000},  Suffix{"s", 1'000'000'000},
                               Suffix{"min", 60'000'000'000}, Suffix{"h", 3'600'000'000'000}};
constexpr std::array kVoltages = {Suffix{"uV", 1}, Suffix{"mV", 1'000}, Suffix{"V", 1'000'000}};
constexpr std::array kResistances = {
    Suffix{"ohm", 1'000},          Suffix{"kohm", 1'000'000}, Suffix{"Mohm", 1'000'000'000},
    Suffix{"", 1'000},             Suffix{"k", 1'000'000},    Suffix{"M", 1'000'000'000}};
constexpr std::array kCurrents = {Suffix{"uA", 1}, Suffix{"mA", 1'000}, Suffix{"A", 1'000'000}};
constexpr std::array kLengths = {Suffix{"mm", 1'000}, Suffix{"cm", 10'000}, Suffix{"", 1'000}};
constexpr std::array kFrequencies = {Suffix{"Hz", 1'000}, Suffix{"kHz", 1'000'000},
                                     Suffix{"MHz", 1'000'000'000}};
constexpr std::array kShares = {Suffix{"%", 10'000}, Suffix{"", 1'000'000}};

std::span<const Suffix> suffixes_of(Unit unit) {
  switch (unit) {
    case Unit::kTime: return kTimes;
    case Unit::kVoltage: return kVoltages;
    case Unit::kResistance: return kResistances;
    case Unit::kCurrent: return kCurrents;
    case Unit::kLength: return kLengths;
    case Unit::kFrequency: return kFrequencies;
    case Unit::kShare: return kShares;
  }
  return {};
}

bool is_digit(char c) { return c >= '0' && c <= '9'; }

// mantissa / 10^decimals, as written.
struct Number {
  __int128 mantissa = 0;
  int decimals = 0;
  bool negative = false;
  std::string_view rest;
};

std::optional<Number> leading_number(std::string_view text) {
  Number number;
  std::size_t i = 0;
  if (i < text.size() && (text[i] == '-' || text[i] == '+')) number.negative = text[i++] == '-';
  int digits = 0;
  bool after_point = false;
  for (; i < text.size() && (is_digit(text[i]) || (text[i] == '.' && !after_point)); ++i) {
    if (text[i] == '.') {
      after_point = true;
      continue;
    }
    if (++digits > 24) return std::nullopt;
    number.mantissa = number.mantissa * 10 + (text[i] - '0');
    if (after_point) ++number.decimals;
  }
  if (digits == 0) return std::nullopt;
  while (i < text.size() && text[i] == ' ') ++i;
  number.rest = text.substr(i);
  return number;
}

std::string_view trimmed(std::string_view text) {
  while (!text.empty() && text.front() == ' ') text.remove_prefix(1);
  while (!text.empty() && text.back() == ' ') text.remove_suffix(1);
  return text;
}

std::string with_decimals(std::int64_t whole, std::int64_t remainder, std::int64_t parts) {
  std::string text = std::to_string(whole);
  if (remainder == 0) return text;
  text += '.';
  while (remainder != 0) {
    parts /= 10;
    text += static_cast<char>('0' + remainder / parts);
    remainder %= parts;
  }
  return text;
}

bool is_power_of_ten(std::int64_t n) {
  while (n % 10 == 0) n /= 10;
  return n == 1;
}

}  // namespace

std::optional<std::int64_t> parse_quantity(std::string_view text, Unit unit) {
  const auto number = leading_number(trimmed(text));
  if (!number) return std::nullopt;
  for (const Suffix& suffix : suffixes_of(unit)) {
    if (suffix.text != number->rest) continue;
    __int128 value = number->mantissa * suffix.parts;
    for (int i = 0; i < number->decimals; ++i) {
      if (value % 10 != 0) return std::nullopt;  // finer than the smallest part
      value /= 10;
    }
    if (value > (static_cast<__int128>(1) << 62)) return std::nullopt;
    return static_cast<std::int64_t>(number->negative ? -value : value);
  }
  return std::nullopt;
}

std::string write_quantity(std::int64_t value, Unit unit) {
  const std::string sign = value < 0 ? "-" : "";
  const std::int64_t size = value < 0 ? -value : value;
  const std::span<const Suffix> suffixes = suffixes_of(unit);
  const Suffix* best = &suffixes.front();
  for (const Suffix& suffix : suffixes) {
    const bool exact = size % suffix.parts == 0 || is_power_of_ten(suffix.parts);
    if (!suffix.text.empty() && exact && size >= suffix.parts && suffix.parts > best->parts)
      best = &suffix;
  }
  const std::string text =
      sign + with_decimals(size / best->parts, size % best->parts, best->parts);
  const bool tight = best->text == "%" || best->text.empty();
  return text + (tight ? "" : " ") + std::string(best->text);
}

std::optional<Duration> parse_duration(std::string_view text) {
  const auto ns = parse_quantity(text, Unit::kTime);
  if (!ns) return std::nullopt;
  return Duration{*ns};
}

std::string write_duration(Duration d) { return write_quantity(d.ns, Unit::kTime); }

std::string_view unit_example(Unit unit) {
  switch (unit) {
    case Unit::kTime: return "a time such as \"20 ms\"";
    case Unit::kVoltage: return "a voltage such as \"5 V\"";
    case Unit::kResistance: return "a resistance such as \"220 ohm\" or \"4.7k\"";
    case Unit::kCurrent: return "a current such as \"20 mA\"";
    case Unit::kLength: return "a length such as \"60 mm\"";
    case Unit::kFrequency: return "a frequency such as \"16 MHz\"";
    case Unit::kShare: return "a share such as \"2 %\"";
  }
  return "";
}

}  // namespace understudy
