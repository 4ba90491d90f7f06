// What lamps of one and of three colours have in common: halos, the lit share of what is drawn, and
// where their light comes from. How each looks stands in face_lamp.cpp and face_rgb.cpp.
#pragma once

#include "sim/window/face_parts.h"
#include "sim/window/light.h"

namespace understudy {

inline constexpr float kLensMm = 4.8F;       // radius of a lamp's lens
inline constexpr float kLampBezelMm = 1.5F;  // width of the ring around it

// What a lamp of one colour gives at this moment, or on average where it is to be calm.
SeenLight light_on(const FacePart& part, const PartState& state);
// The same of one of three colours.
SeenMixture mixture_on(const FacePart& part, const PartState& state);

// A soft disc of light, `radius` mm, of one colour: brightest at the lens, nothing at its edge. It
// has few pixels, for nothing in it is sharp.
Sprite halo_sprite(float radius, std::uint32_t rrggbb, float pixels_per_mm);
// Blending covers where light would add to what is there; with the parts that a hue lacks at least
// those of the enamel, the halo brightens it and takes nothing away.
std::uint32_t halo_colour(std::uint32_t rrggbb);
// The halo that a lens of kLensMm throws on what is around it; `n` is the halo's sprite, painted
// for a radius of kLensMm * kWidestGlow.
void draw_halo(FaceDrawing& drawing, std::size_t n, const Point& middle, const SeenLight& seen,
               ImU32 tint);

// Of what is drawn over the dark lens: in proportion to lightness.
inline ImU32 with_alpha(std::uint32_t rrggbb, double share) {
  const auto alpha = static_cast<ImU32>(share <= 0 ? 0 : share >= 1 ? 255 : share * 255 + 0.5);
  return IM_COL32(rrggbb >> 16U & 0xFFU, rrggbb >> 8U & 0xFFU, rrggbb & 0xFFU, alpha);
}

}  // namespace understudy
