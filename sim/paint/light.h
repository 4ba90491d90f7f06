// Colours as amounts of light, and how bytes of sRGB become such and go back. All mixing here is of
// light, never of encoded bytes.
#pragma once

#include <cstdint>

namespace understudy {

// Red, green and blue light, 0 to 1 and, for what shines, beyond.
struct Light {
  float red = 0;
  float green = 0;
  float blue = 0;
  friend bool operator==(const Light&, const Light&) = default;
};

inline Light operator*(const Light& light, float by) {
  return {light.red * by, light.green * by, light.blue * by};
}
inline Light operator*(const Light& a, const Light& b) {
  return {a.red * b.red, a.green * b.green, a.blue * b.blue};
}
inline Light operator+(const Light& a, const Light& b) {
  return {a.red + b.red, a.green + b.green, a.blue + b.blue};
}
// `share` 0 is `a`, 1 is `b`.
inline Light mixed_light(const Light& a, const Light& b, float share) {
  return a * (1 - share) + b * share;
}

// The transfer function of sRGB and its inverse (IEC 61966-2-1), 0 to 1 both.
float linear_of(float encoded);
float encoded_of(float linear);

// 0xRRGGBB, as colours are written.
Light light_of(std::uint32_t rrggbb);

}  // namespace understudy
