// The arithmetic of board programs, with its usual carelessness.
#include "sim/manners/wire_numbers.h"

#include <algorithm>

namespace understudy {

std::int64_t wire_number_of_reading(std::int64_t raw, std::int64_t raw_top, const Sends& sends) {
  const std::int64_t span = sends.high - sends.low;
  if (span == raw_top) return sends.low + raw;
  if (!sends.words.empty()) {
    const auto count = static_cast<std::int64_t>(sends.words.size());
    return raw * count / (raw_top + 1);
  }
  constexpr std::int64_t kProductSafe = std::int64_t{1} << 40;  // times any reading
  if (span < kProductSafe && span > -kProductSafe) return sends.low + raw * span / raw_top;
  return sends.low + static_cast<std::int64_t>(static_cast<__int128>(raw) * span / raw_top);
}

std::int64_t number_shown(std::int64_t written, const Sends& sends) {
  if (sends.low == 0 && sends.high == 255) return written & 255;
  return std::clamp(written, std::min(sends.low, sends.high), std::max(sends.low, sends.high));
}

}  // namespace understudy
