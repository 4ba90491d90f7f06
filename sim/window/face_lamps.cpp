// Halos, and light from a device's numbers.
#include "sim/window/face_lamps.h"

#include <algorithm>
#include <cmath>

#include "sim/window/flash_watch.h"

namespace understudy {

SeenLight light_on(const FacePart& part, const PartState& state) {
  const BoardDescription& board = state.seat.device.panel().description.board;
  if (state.calm == nullptr) return lamp_light(state.number(part), *part.output, board);
  const PartShares shares = state.calm->average(part.id.index, state.seat.device.now());
  return seen_light(shares[0], full_ua(*part.output, 0, board));
}

SeenMixture mixture_on(const FacePart& part, const PartState& state) {
  const BoardDescription& board = state.seat.device.panel().description.board;
  if (state.calm != nullptr) {
    const PartShares shares = state.calm->average(part.id.index, state.seat.device.now());
    return rgb_mixture_of(shares, *part.output, board);
  }
  const std::array numbers = {state.number(part, 0), state.number(part, 1), state.number(part, 2)};
  return rgb_mixture(numbers, *part.output, board);
}

Sprite halo_sprite(float radius, std::uint32_t rrggbb, float pixels_per_mm) {
  const float scale = std::min(pixels_per_mm, 24 / radius);
  const int size = std::max(8, static_cast<int>(std::ceil(2 * radius * scale)));
  Sprite sprite{.bitmap = Bitmap(size, size), .extent = {-radius, -radius, radius, radius}};
  const float middle = static_cast<float>(size) / 2;
  std::uint8_t* pixel = sprite.bitmap.rgba.data();
  for (int row = 0; row < size; ++row) {
    for (int column = 0; column < size; ++column, pixel += 4) {
      const float away = std::hypot(static_cast<float>(column) + 0.5F - middle,
                                    static_cast<float>(row) + 0.5F - middle) /
                         middle;
      const float fall = std::max(0.0F, 1 - away);
      pixel[0] = static_cast<std::uint8_t>(rrggbb >> 16U & 0xFFU);
      pixel[1] = static_cast<std::uint8_t>(rrggbb >> 8U & 0xFFU);
      pixel[2] = static_cast<std::uint8_t>(rrggbb & 0xFFU);
      pixel[3] = static_cast<std::uint8_t>(255 * fall * fall);
    }
  }
  return sprite;
}

std::uint32_t halo_colour(std::uint32_t rrggbb) {
  constexpr std::uint32_t kEnamel = 0x68;
  const auto part = [rrggbb](unsigned shift) {
    return std::max<std::uint32_t>(rrggbb >> shift & 0xFFU, kEnamel) << shift;
  };
  return part(16) | part(8) | part(0);
}

void draw_halo(FaceDrawing& drawing, std::size_t n, const Point& middle, const SeenLight& seen,
               ImU32 tint) {
  const Glow glow = glow_of(seen);
  const auto alpha = static_cast<ImU32>(glow.strength * 255 + 0.5);
  if (alpha == 0) return;
  drawing.sprite_grown(n, middle, static_cast<float>(glow.radius / kWidestGlow),
                       (tint & ~IM_COL32_A_MASK) | alpha << IM_COL32_A_SHIFT);
}

}  // namespace understudy
