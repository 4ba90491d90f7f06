// The standard's two pieces, a line near black and a power above.
#include "sim/paint/light.h"

#include <cmath>

namespace understudy {

float linear_of(float encoded) {
  if (encoded <= 0.04045F) return encoded / 12.92F;
  return std::pow((encoded + 0.055F) / 1.055F, 2.4F);
}

float encoded_of(float linear) {
  if (linear <= 0.0031308F) return linear * 12.92F;
  return 1.055F * std::pow(linear, 1.0F / 2.4F) - 0.055F;
}

Light light_of(std::uint32_t rrggbb) {
  const auto part = [rrggbb](int shift) {
    return linear_of(static_cast<float>(rrggbb >> shift & 0xFFU) / 255.0F);
  };
  return {part(16), part(8), part(0)};
}

}  // namespace understudy
