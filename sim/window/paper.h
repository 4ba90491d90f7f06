// The sheet on which everything lies, and the index cards on it, as drawn; what is written on the
// cards is drawn by others.
#pragma once

#include <imgui.h>

#include "sim/window/layout.h"
#include "sim/window/textures.h"

namespace understudy {

// Warm paper with pale ruled lines, painted once for a scale.
class Paper {
 public:
  explicit Paper(Textures& textures) : textures_(textures) {}
  ~Paper() { textures_.drop(tile_); }
  Paper(const Paper&) = delete;
  Paper& operator=(const Paper&) = delete;

  void draw(ImDrawList& list, const Box& box, float unit);

 private:
  Textures& textures_;
  ImTextureID tile_ = nullptr;
  float tile_unit_ = 0;
  ImVec2 tile_size_;
};

// One period of the sheet: paper grain and rules `pitch` pixels apart.
Bitmap painted_paper(int pitch);

// A card with its edge, and its shadow to the lower right.
void draw_card(ImDrawList& list, const Box& box, float unit);

}  // namespace understudy
