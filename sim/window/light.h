// From what an output carries to what an eye sees: light in proportion to current and share of the
// time, lightness, and the colour of lens and glow on a screen. What draws them is the face's work.
//
// Sources: relative luminance of sRGB's primaries and its transfer: IEC 61966-2-1; lightness L*:
// CIE 15, computed by lightness() of sim/board/pwm.h. That an LED's light follows its current:
// common practice; the sheets' curves bend little below 20 mA.
#pragma once

#include <array>
#include <cstdint>
#include <string_view>

#include "sim/board/pwm.h"
#include "sim/model/panel_description.h"

namespace understudy {

// An LED that carries this is as bright as the face can show; one that carries less is darker. On
// 220 ohm at 5 V every colour carries more. Chosen by looking.
inline constexpr std::int64_t kBrightestUa = 5'000;

// What a lamp gives, and how light it looks.
struct SeenLight {
  double luminance = 0;  // 0 to 1: of the brightest that the face can show in its colour
  double lightness = 0;  // L*, 0 to 100
};

// `duty`: the share of the time that it is lit; `full_ua`: what it carries then.
SeenLight seen_light(double duty, std::int64_t full_ua);
// A lamp that was given this number.
SeenLight lamp_light(std::int64_t number, const OutputDescription& lamp,
                     const BoardDescription& board);

// The same of three in one case; `light` has the hue, its greatest part 1, or all dark.
struct SeenMixture {
  SeenLight seen;
  RgbLight light;
};
SeenMixture rgb_mixture(const std::array<std::int64_t, 3>& numbers, const OutputDescription& rgb,
                        const BoardDescription& board);
// From the shares of the time of each, 0 to 1.
SeenMixture rgb_mixture_of(const std::array<double, 3>& duties, const OutputDescription& rgb,
                           const BoardDescription& board);

// Linear light of a lamp of a colour of panel files at its brightest; white where none such is.
RgbLight hue_light(std::string_view colour);
// The same dark: coloured glass in daylight.
RgbLight glass_light(std::string_view colour);

// 0xRRGGBB of sRGB; what lies beyond 0 to 1 is held to it.
std::uint32_t srgb_of(const RgbLight& light);
// A light of this hue and luminance.
std::uint32_t display_colour(const RgbLight& hue, double luminance);

// The glow around a lens.
struct Glow {
  double strength = 0;  // 0 to 1
  double radius = 1;    // of the lens's
};
inline constexpr double kWidestGlow = 2.6;
Glow glow_of(const SeenLight& seen);

}  // namespace understudy
