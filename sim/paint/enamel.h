// Hammer-finish enamel: the paint of cast and sheet housings that flows into shallow rounded
// islands with a soft metallic sheen. A tile of it, that repeats without a seam.
#pragma once

#include "sim/paint/canvas.h"

namespace understudy {

struct EnamelLook {
  Light colour = light_of(0x3C614C);
  float cell = 1.5F;     // mm from island to island
  float relief = 0.42F;  // how strong the form is
  std::uint32_t seed = 1;
};

// For a canvas of that scale. Where a pixel is coarse, islands are larger and flatter, so that it
// stays paint and never becomes noise.
Canvas::Tile enamel_tile(const EnamelLook& look, float pixels_per_mm);

}  // namespace understudy
