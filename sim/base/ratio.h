// Exact ratios of whole numbers: chances and clock relations that print, parse and replay exactly.
#pragma once

#include <cstdint>

namespace understudy {

// num / den. REQUIRES: den > 0.
struct Ratio {
  std::int64_t num = 0;
  std::int64_t den = 1;
  friend constexpr bool operator==(Ratio, Ratio) = default;
};

// floor(n * r), through 128 bits, so that no product overflows on the way.
constexpr std::int64_t scaled(std::int64_t n, Ratio r) {
  const __int128 product = static_cast<__int128>(n) * r.num;
  const __int128 quotient = product / r.den;
  return static_cast<std::int64_t>(product % r.den < 0 ? quotient - 1 : quotient);
}

}  // namespace understudy
