// Steps of 1, 2 and 5 times a power of ten.
#include "sim/window/gauge_scale.h"

#include <algorithm>
#include <cstdint>
#include <limits>
#include <string>
#include <utility>

namespace understudy {
namespace {

struct Step {
  std::int64_t size = 1;
  int parts = 5;  // small marks divide it by this
};

// The least step that gives few enough main marks over `span`.
Step step_for(std::int64_t span) {
  for (std::int64_t power = 1; power < std::numeric_limits<std::int64_t>::max() / 10; power *= 10) {
    for (const auto& [times, parts] : {std::pair{1, 5}, {2, 4}, {5, 5}}) {
      if (span / (power * times) < kMainMarksMax) return {power * times, parts};
    }
  }
  return {span, 1};
}

std::string written(std::int64_t number, int decimals) {
  const bool minus = number < 0;
  std::string digits = std::to_string(minus ? -number : number);
  if (decimals > 0) {
    const auto places = static_cast<std::size_t>(decimals);
    if (digits.size() <= places) digits.insert(0, places + 1 - digits.size(), '0');
    digits.insert(digits.size() - places, ".");
    while (digits.back() == '0') digits.pop_back();
    if (digits.back() == '.') digits.pop_back();
  }
  return minus ? "-" + digits : digits;
}

}  // namespace

std::vector<GaugeMark> marks_of(const Sends& range) {
  std::vector<GaugeMark> marks;
  const auto [low, high] = std::minmax(range.low, range.high);
  if (low == high) return {{.share = 0, .main = true, .text = written(low, range.decimals)}};
  const auto share_of = [&](double number) {
    return (number - static_cast<double>(range.low)) / static_cast<double>(range.high - range.low);
  };
  for (std::size_t i = 0; i < range.words.size(); ++i)
    marks.push_back({share_of(static_cast<double>(i)), true, range.words[i]});
  if (!marks.empty()) return marks;
  const Step step = step_for(high - low);
  const std::int64_t small = std::max<std::int64_t>(1, step.size / step.parts);
  std::int64_t first = low / small * small;
  if (first < low) first += small;
  for (std::int64_t number = first; number <= high; number += small) {
    const bool main = number % step.size == 0;
    marks.push_back({share_of(static_cast<double>(number)), main,
                     main ? written(number, range.decimals) : std::string()});
  }
  if (range.low > range.high) std::reverse(marks.begin(), marks.end());
  return marks;
}

}  // namespace understudy
