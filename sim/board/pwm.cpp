// Duty, current and lightness.
#include "sim/board/pwm.h"

#include <algorithm>
#include <cmath>

#include "sim/base/check.h"
#include "sim/model/currents.h"

namespace understudy {

double pwm_frequency_hz(double cpu_hz, int prescaler, bool phase_correct) {
  return cpu_hz / (prescaler * (phase_correct ? 510.0 : 256.0));
}

double pwm_duty(int compare, bool phase_correct) {
  return phase_correct ? compare / 255.0 : (compare + 1) / 256.0;
}

Ratio lit_share(std::int64_t number, const OutputDescription& lamp, const BoardDescription& board) {
  const auto [low, high] = std::minmax(lamp.sends.low, lamp.sends.high);
  if (high == low) return {0, 1};
  std::int64_t level = (std::clamp(number, low, high) - low) * 255 / (high - low);
  if (lamp.sends.low > lamp.sends.high) level = 255 - level;
  if (level == 0 || level == 255) return {level == 0 ? 0 : 1, 1};
  return board.phase_correct_pwm ? Ratio{level, 255} : Ratio{level + 1, 256};
}

double lamp_duty(std::int64_t number, const OutputDescription& lamp,
                 const BoardDescription& board) {
  const Ratio share = lit_share(number, lamp, board);
  return static_cast<double>(share.num) / static_cast<double>(share.den);
}

std::int64_t full_ua(const OutputDescription& lamp, std::size_t part,
                     const BoardDescription& board) {
  const bool rgb = lamp.kind == OutputKind::kRgb;
  CHECK(rgb || lamp.kind == OutputKind::kLamp, "only lamps and rgb have LEDs on pins");
  const std::int64_t pin_mohm = lamp.active_low ? kPinTakesMohm : kPinGivesMohm;
  const std::int64_t forward_uv = rgb ? lamp.rgb.forward_uv.at(part) : lamp.forward_uv;
  const std::int64_t resistor = rgb ? lamp.rgb.resistor_mohm.at(part) : lamp.resistor_mohm;
  return led_ua(board.supply_uv, forward_uv, resistor + pin_mohm);
}

RgbLight rgb_light(const std::array<std::int64_t, 3>& numbers, const OutputDescription& rgb,
                   const BoardDescription& board) {
  std::array<std::int64_t, 3> full = {};
  for (std::size_t part = 0; part < full.size(); ++part) full[part] = full_ua(rgb, part, board);
  const std::int64_t most = *std::max_element(full.begin(), full.end());
  if (most == 0) return {};
  const auto share = [&](std::size_t part) {
    return lamp_duty(numbers[part], rgb, board) * static_cast<double>(full[part]) /
           static_cast<double>(most);
  };
  return {share(0), share(1), share(2)};
}

double lightness(double relative_luminance) {
  constexpr double kKnee = 216.0 / 24389.0;  // (6/29)^3
  constexpr double kSlope = 24389.0 / 27.0;  // 903.3
  if (relative_luminance <= kKnee) return kSlope * relative_luminance;
  return 116.0 * std::cbrt(relative_luminance) - 16.0;
}

}  // namespace understudy
