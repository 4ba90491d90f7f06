// Duty, current and lightness.
#include "sim/board/pwm.h"

#include <algorithm>
#include <cmath>

namespace understudy {

double pwm_frequency_hz(double cpu_hz, int prescaler, bool phase_correct) {
  return cpu_hz / (prescaler * (phase_correct ? 510.0 : 256.0));
}

double pwm_duty(int compare, bool phase_correct) {
  return phase_correct ? compare / 255.0 : (compare + 1) / 256.0;
}

double lamp_duty(std::int64_t number, const OutputDescription& lamp,
                 const BoardDescription& board) {
  const std::int64_t low = std::min(lamp.sends.low, lamp.sends.high);
  const std::int64_t high = std::max(lamp.sends.low, lamp.sends.high);
  const bool turned = (lamp.sends.low > lamp.sends.high);
  if (high == low) return 0.0;
  std::int64_t level = (std::clamp(number, low, high) - low) * 255 / (high - low);
  if (turned) level = 255 - level;
  if (level == 0 || level == 255) return level == 0 ? 0.0 : 1.0;
  return pwm_duty(static_cast<int>(level), board.phase_correct_pwm);
}

double lightness(double relative_luminance) {
  constexpr double kKnee = 216.0 / 24389.0;  // (6/29)^3
  constexpr double kSlope = 24389.0 / 27.0;  // 903.3
  if (relative_luminance <= kKnee) return kSlope * relative_luminance;
  return 116.0 * std::cbrt(relative_luminance) - 16.0;
}

}  // namespace understudy
