// Light on a surface: sky from everywhere, sun from the upper left, and a bright window mirrored.
// A model for the eye, not of optics; its numbers were chosen by looking.
#include "sim/paint/surfaces.h"

#include <algorithm>
#include <cmath>

namespace understudy {
namespace {

struct Direction {
  float x;
  float y;
  float z;
};

constexpr Direction kSun = {-0.4286F, -0.5714F, 0.7F};          // of length 1
constexpr Direction kMirrored = {-0.2325F, -0.3099F, 0.9219F};  // half way from it to the eye
constexpr Light kSunlight = {1.0F, 0.965F, 0.9F};
constexpr Light kSkylight = {0.9F, 0.96F, 1.0F};
constexpr float kSkyShare = 0.42F;

float smooth(float from, float to, float value) {
  const float share = std::clamp((value - from) / (to - from), 0.0F, 1.0F);
  return share * share * (3 - 2 * share);
}

// How bright the room is in a direction: daylight above and to the left, the table below.
float room_in(const Direction& d, float roughness) {
  const float up = -0.6F * d.x - 0.8F * d.y;
  const float soft = 0.15F + roughness;
  const float sky = smooth(-0.55F - soft, 0.75F + soft, up);
  return 0.12F + 0.88F * sky;
}

}  // namespace

Light lit(const Light& colour, const Material& material, const Slope& slope) {
  const float scale = 1 / std::sqrt(1 + slope.x * slope.x + slope.y * slope.y);
  const Direction n = {-slope.x * scale, -slope.y * scale, scale};
  const float sun = std::max(0.0F, n.x * kSun.x + n.y * kSun.y + n.z * kSun.z);
  const float sky = 0.5F + 0.5F * (0.25F * kSunward.x * n.x + 0.25F * kSunward.y * n.y + n.z);
  const float diffuse = kSkyShare * sky + (1 - kSkyShare) / kSun.z * sun;
  Light out = colour * diffuse;
  if (material.shine <= 0) return out;

  const float half = std::max(0.0F, n.x * kMirrored.x + n.y * kMirrored.y + n.z * kMirrored.z);
  const float rough = std::max(0.04F, material.roughness * material.roughness);
  const float gloss = 2 / (rough * rough) - 1;
  const float spark = std::pow(half, gloss) * std::min(3.0F, 0.12F + 0.06F / rough);
  const float grazing = 1 - n.z;
  const float mirror = material.shine * (0.35F + 0.65F * grazing * grazing);
  const Direction away = {2 * n.z * n.x, 2 * n.z * n.y, 2 * n.z * n.z - 1};
  const float room = room_in(away, material.roughness) - room_in({0, 0, 1}, material.roughness);
  const Light tint = material.metal ? colour : Light{1, 1, 1};
  out = out + tint * kSkylight * (mirror * room) + tint * kSunlight * (material.shine * spark);
  return {std::max(0.0F, out.red), std::max(0.0F, out.green), std::max(0.0F, out.blue)};
}

Height bevel(float width, float rise) {
  return [width, rise](const Point&, float inside) {
    return rise * std::clamp(inside / width, 0.0F, 1.0F);
  };
}

Height rounded_edge(float width, float rise) {
  return [width, rise](const Point&, float inside) {
    const float share = 1 - std::clamp(inside / width, 0.0F, 1.0F);
    return rise * std::sqrt(std::max(0.0F, 1 - share * share));
  };
}

Height dished(float width, float depth) {
  return [width, depth](const Point&, float inside) { return -depth * smooth(0, width, inside); };
}

Height dome(const Point& middle, float radius, float rise) {
  const float ball = (radius * radius + rise * rise) / (2 * rise);
  return [middle, ball, rise](const Point& at, float) {
    const Point q = at - middle;
    return std::sqrt(std::max(0.0F, ball * ball - q.x * q.x - q.y * q.y)) - (ball - rise);
  };
}

Height ribbed(Height under, float pitch, float rise, bool across_y) {
  return [under = std::move(under), pitch, rise, across_y](const Point& at, float inside) {
    const float along = (across_y ? at.y : at.x) / pitch;
    const float share = along - std::floor(along) - 0.5F;
    return under(at, inside) + rise * std::sqrt(std::max(0.0F, 1 - 4 * share * share));
  };
}

Height grained(Height under, float size, float rise, std::uint32_t seed) {
  return [under = std::move(under), size, rise, seed](const Point& at, float inside) {
    return under(at, inside) + rise * noise_at(at * (1 / size), seed);
  };
}

Tone turned_metal(const Point& middle, float strength) {
  return [middle, strength](const Point& at) {
    const Point q = at - middle;
    const float away = std::max(1e-3F, std::sqrt(q.x * q.x + q.y * q.y));
    const float facing = (q.x * kSunward.x + q.y * kSunward.y) / away;
    const float fan = facing * facing * facing * facing;
    const float groove = noise_at({away * 9, 0.5F}, 17) - 0.5F;
    return 1 + strength * (1.5F * fan - 0.55F + 0.35F * groove);
  };
}

Tone brushed(float strength, bool along_y, std::uint32_t seed) {
  return [strength, along_y, seed](const Point& at) {
    const Point q = along_y ? Point{at.x * 6, at.y * 0.09F} : Point{at.x * 0.09F, at.y * 6};
    return 1 + strength * (noise_at(q, seed) + 0.6F * noise_at(q * 2.3F, seed + 1) - 0.8F);
  };
}

Tone clouded(float size, float strength, std::uint32_t seed) {
  return [size, strength, seed](const Point& at) {
    const Point q = at * (1 / size);
    const float cloud = noise_at(q, seed) + 0.5F * noise_at(q * 2.1F, seed + 1) - 0.75F;
    return 1 + strength * cloud;
  };
}

float chance_at(std::int32_t column, std::int32_t row, std::uint32_t seed) {
  std::uint32_t mix = static_cast<std::uint32_t>(column) * 0x9E3779B1U;
  mix ^= static_cast<std::uint32_t>(row) * 0x85EBCA77U;
  mix ^= seed * 0xC2B2AE3DU;
  mix = (mix ^ mix >> 15) * 0x2C1B3C6DU;
  mix = (mix ^ mix >> 12) * 0x297A2D39U;
  mix ^= mix >> 15;
  return static_cast<float>(mix >> 8) * (1.0F / 16'777'216.0F);
}

float noise_at(const Point& at, std::uint32_t seed, std::int32_t period) {
  const float floor_x = std::floor(at.x);
  const float floor_y = std::floor(at.y);
  const auto wrapped = [period](std::int32_t value) {
    return period > 0 ? (value % period + period) % period : value;
  };
  const auto column = static_cast<std::int32_t>(floor_x);
  const auto row = static_cast<std::int32_t>(floor_y);
  const auto eased = [](float share) { return share * share * (3 - 2 * share); };
  const float across = eased(at.x - floor_x);
  const float down = eased(at.y - floor_y);
  const auto corner = [&](std::int32_t x, std::int32_t y) {
    return chance_at(wrapped(column + x), wrapped(row + y), seed);
  };
  const float upper = corner(0, 0) + (corner(1, 0) - corner(0, 0)) * across;
  const float lower = corner(0, 1) + (corner(1, 1) - corner(0, 1)) * across;
  return upper + (lower - upper) * down;
}

}  // namespace understudy
