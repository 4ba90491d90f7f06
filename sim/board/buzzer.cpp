// Number to pitch, pitch to level.
#include "sim/board/buzzer.h"

#include <algorithm>
#include <cmath>

namespace understudy {
namespace {

constexpr int kHarmonicMax = 31;
// 1 MHz: nobody hears more.
constexpr std::int64_t kThousandthsMax = 1'000'000'000;

// Sum of what passes of all odd harmonics, as power.
double power_at(double ratio) {
  double power = 0.0;
  for (int k = 1; k <= kHarmonicMax; k += 2) {
    const double detuned = kBuzzerQ * (ratio * k - 1.0 / (ratio * k));
    power += 1.0 / (static_cast<double>(k) * k * (1.0 + detuned * detuned));
  }
  return power;
}

std::int64_t hertz_in_thousandths(std::int64_t number, int decimals) {
  __int128 scaled = static_cast<__int128>(number) * 1'000;
  for (int i = 0; i < decimals; ++i) scaled /= 10;
  return scaled > kThousandthsMax ? kThousandthsMax : static_cast<std::int64_t>(scaled);
}

}  // namespace

std::int64_t level_at_ppm(std::int64_t frequency_mhz, std::int64_t resonance_hz) {
  if (frequency_mhz <= 0) return 0;
  const double ratio =
      static_cast<double>(frequency_mhz) / (static_cast<double>(resonance_hz) * 1'000.0);
  const double level = std::sqrt(power_at(ratio) / power_at(1.0));
  return std::min<std::int64_t>(1'000'000, static_cast<std::int64_t>(level * 1e6 + 0.5));
}

Sound sound_of(std::int64_t number, const OutputDescription& buzzer) {
  const BuzzerPart& part = buzzer.buzzer;
  Sound sound;
  if (part.pitched) {
    if (number <= 0) return sound;
    sound.frequency_mhz = hertz_in_thousandths(number, buzzer.sends.decimals);
    sound.level_ppm = level_at_ppm(sound.frequency_mhz, part.resonance_hz);
    return sound;
  }
  const auto [least, most] = std::minmax(buzzer.sends.low, buzzer.sends.high);
  if (std::clamp(number, least, most) == buzzer.sends.low) return sound;
  return {part.resonance_hz * 1'000, 1'000'000};
}

}  // namespace understudy
