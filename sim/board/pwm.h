// What a PWM pin makes of a number, and what an eye makes of the light: duty, frequency, perceived
// lightness; and what an LED carries. Currents and shares of the time feed the supply, so they are
// whole numbers; all else is for display and measurement.
// Sources: ATmega88A DS40002007A p.144 (fast: duty (OCR+1)/256), ATmega168PA p.147 (phase correct:
// OCR/255); ATmega328P 8271H p.301: a pin that gives 20 mA at 5 V has 4.2 V left, one that takes
// 20 mA keeps 0.9 V, both at the worst; CIE 15 lightness L*.
#pragma once

#include <array>
#include <cstdint>

#include "sim/base/ratio.h"
#include "sim/model/panel_description.h"

namespace understudy {

// Timer clock over 256 (fast) or 510 (phase correct), in hertz. prescaler 1, 8, 64, 256, 1024.
double pwm_frequency_hz(double cpu_hz, int prescaler, bool phase_correct);

// Share of the time that the pin is high for an 8-bit compare value, as the timer itself gives it.
double pwm_duty(int compare, bool phase_correct);

// The share of the time that a lamp, or one of an rgb's three, is lit for its number. The usual
// board program switches the pin itself at both ends of the range, so 0 is dark and the top is
// full, whatever the timer would give.
Ratio lit_share(std::int64_t number, const OutputDescription& lamp, const BoardDescription& board);
double lamp_duty(std::int64_t number, const OutputDescription& lamp, const BoardDescription& board);

// What an LED of a lamp or rgb carries while it is lit: (supply - forward) / (resistor + pin).
// REQUIRES: the kind is a lamp or rgb; part < line_parts(lamp).size()
std::int64_t full_ua(const OutputDescription& lamp, std::size_t part,
                     const BoardDescription& board);
// Resistance of a pin at its worst, when it gives and when it takes.
inline constexpr std::int64_t kPinGivesMohm = 40'000;
inline constexpr std::int64_t kPinTakesMohm = 45'000;

// Linear light of red, green and blue, each from 0 to 1.
struct RgbLight {
  double red = 0;
  double green = 0;
  double blue = 0;
};
// Three lamps in one case: each as long as its number says, and as bright as its full current is
// beside the greatest of the three, for light follows current.
RgbLight rgb_light(const std::array<std::int64_t, 3>& numbers, const OutputDescription& rgb,
                   const BoardDescription& board);

// Relative luminance, 0 to 1, with the shares that sRGB's primaries have in it (IEC 61966-2-1).
inline constexpr double kRedShare = 0.2126;
inline constexpr double kGreenShare = 0.7152;
inline constexpr double kBlueShare = 0.0722;
constexpr double luminance_of(const RgbLight& light) {
  return kRedShare * light.red + kGreenShare * light.green + kBlueShare * light.blue;
}

// CIE 1976 L* (0..100) of a luminance relative to white (0..1).
double lightness(double relative_luminance);

}  // namespace understudy
