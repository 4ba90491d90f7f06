// The typefaces, carried inside the program: Cabin, Courier Prime, and DejaVu Sans for letters and
// signs that those lack. Bakes them into ImGui's atlas at the sizes that are asked for.
#pragma once

#include <imgui.h>

#include "sim/window/style.h"

namespace understudy {

struct TypefaceSizes {
  float unit = 1.0F;          // pixels of one unit of length, as in AreaContext
  float engraved_px = 14.0F;  // height of the face's legends, whole pixels
  bool operator==(const TypefaceSizes&) const = default;
};

// What is in the atlas is cleared first; a Renderer has to take the atlas afterwards. Covered are
// Latin, Greek and Cyrillic, punctuation, arrows, and signs of arithmetic and units.
Typefaces bake_typefaces(ImFontAtlas& atlas, const TypefaceSizes& sizes);

}  // namespace understudy
