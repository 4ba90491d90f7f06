// The series are historical numbers, not powers: they are tables. Source: IEC 60063.
#include "sim/panel/preferred_values.h"

#include <array>

#include "sim/base/check.h"

namespace understudy {
namespace {

constexpr std::array kE12 = {10, 12, 15, 18, 22, 27, 33, 39, 47, 56, 68, 82};
constexpr std::array kE24 = {10, 11, 12, 13, 15, 16, 18, 20, 22, 24, 27, 30,
                             33, 36, 39, 43, 47, 51, 56, 62, 68, 75, 82, 91};

}  // namespace

std::span<const int> e12_values() {
  return kE12;
}
std::span<const int> e24_values() {
  return kE24;
}

std::int64_t next_in_series(std::int64_t mohm, std::span<const int> series) {
  CHECK(mohm > 0 && mohm <= 1'000'000'000'000'000, "a resistance is out of the series' reach");
  for (std::int64_t decade = 1;; decade *= 10) {
    for (const int value : series)
      if (value * decade >= mohm) return value * decade;
  }
}

std::int64_t resistance_for(std::int64_t across_uv, std::int64_t current_ua) {
  CHECK(current_ua > 0, "a resistance for no current was asked for");
  if (across_uv <= 0) return 0;
  return (across_uv * 1'000 + current_ua - 1) / current_ua;
}

}  // namespace understudy
