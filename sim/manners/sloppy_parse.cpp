// Skip to a digit, read digits, again.
#include "sim/manners/sloppy_parse.h"

namespace understudy {
namespace {

bool is_digit(char c) {
  return c >= '0' && c <= '9';
}

}  // namespace

std::size_t integers_in_a_row(std::string_view line, std::span<std::int64_t> numbers) {
  std::size_t found = 0;
  for (std::size_t i = 0; i < line.size() && found < numbers.size();) {
    if (!is_digit(line[i])) {
      ++i;
      continue;
    }
    const bool negative = i > 0 && line[i - 1] == '-';
    std::uint32_t value = 0;
    for (; i < line.size() && is_digit(line[i]); ++i)
      value = value * 10 + static_cast<std::uint32_t>(line[i] - '0');
    const auto wrapped = static_cast<std::int32_t>(negative ? 0U - value : value);
    numbers[found++] = wrapped;
  }
  return found;
}

}  // namespace understudy
