// Light, lightness, hues.
#include "sim/window/light.h"

#include <algorithm>
#include <cmath>

#include "sim/paint/light.h"

namespace understudy {
namespace {

struct Hue {
  std::string_view colour;
  std::uint32_t lit = 0;
  std::uint32_t glass = 0;
};

// As such LEDs look behind a lens of their colour, and the lens in daylight.
constexpr Hue kHues[] = {
    {"red", 0xFF2A1A, 0x6B100C},    {"orange", 0xFF7420, 0x71300B}, {"amber", 0xFFA11A, 0x75450B},
    {"yellow", 0xFFE23A, 0x766A14}, {"green", 0x3DF06C, 0x0D4A24},  {"blue", 0x3F82FF, 0x102A66},
    {"white", 0xFFF7E6, 0x8C8B84},
};

const Hue& hue_of(std::string_view colour) {
  for (const Hue& hue : kHues) {
    if (hue.colour == colour) return hue;
  }
  return kHues[std::size(kHues) - 1];
}

RgbLight linear(std::uint32_t rrggbb) {
  const Light light = light_of(rrggbb);
  return {light.red, light.green, light.blue};
}

std::uint32_t byte_of(double light) {
  const auto encoded = encoded_of(static_cast<float>(std::clamp(light, 0.0, 1.0)));
  return static_cast<std::uint32_t>(std::lround(encoded * 255.0F));
}

SeenMixture mixture(const RgbLight& of_most, std::int64_t most_ua) {
  const double greatest = std::max({of_most.red, of_most.green, of_most.blue});
  if (greatest <= 0) return {};
  return {.seen = seen_light(greatest, most_ua),
          .light = {of_most.red / greatest, of_most.green / greatest, of_most.blue / greatest}};
}

std::int64_t most_of(const OutputDescription& rgb, const BoardDescription& board) {
  return std::max({full_ua(rgb, 0, board), full_ua(rgb, 1, board), full_ua(rgb, 2, board)});
}

}  // namespace

SeenLight seen_light(double duty, std::int64_t full_ua) {
  const double current = static_cast<double>(full_ua) / static_cast<double>(kBrightestUa);
  const double luminance = std::clamp(duty, 0.0, 1.0) * std::clamp(current, 0.0, 1.0);
  return {.luminance = luminance, .lightness = lightness(luminance)};
}

SeenLight lamp_light(std::int64_t number, const OutputDescription& lamp,
                     const BoardDescription& board) {
  return seen_light(lamp_duty(number, lamp, board), full_ua(lamp, 0, board));
}

SeenMixture rgb_mixture(const std::array<std::int64_t, 3>& numbers, const OutputDescription& rgb,
                        const BoardDescription& board) {
  return mixture(rgb_light(numbers, rgb, board), most_of(rgb, board));
}

SeenMixture rgb_mixture_of(const std::array<double, 3>& duties, const OutputDescription& rgb,
                           const BoardDescription& board) {
  const std::int64_t most = most_of(rgb, board);
  if (most == 0) return {};
  const auto share = [&](std::size_t part) {
    return duties[part] * static_cast<double>(full_ua(rgb, part, board)) /
           static_cast<double>(most);
  };
  return mixture({share(0), share(1), share(2)}, most);
}

RgbLight hue_light(std::string_view colour) {
  return linear(hue_of(colour).lit);
}

RgbLight glass_light(std::string_view colour) {
  return linear(hue_of(colour).glass);
}

std::uint32_t srgb_of(const RgbLight& light) {
  return byte_of(light.red) << 16U | byte_of(light.green) << 8U | byte_of(light.blue);
}

std::uint32_t display_colour(const RgbLight& hue, double luminance) {
  return srgb_of({hue.red * luminance, hue.green * luminance, hue.blue * luminance});
}

Glow glow_of(const SeenLight& seen) {
  const double share = std::clamp(seen.lightness / 100, 0.0, 1.0);
  return {.strength = share * share, .radius = 1.2 + (kWidestGlow - 1.2) * share};
}

}  // namespace understudy
