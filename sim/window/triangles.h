// Triangles of one texture into memory, pixel by pixel. Part of memory_renderer.h.
#pragma once

#include <imgui.h>

#include "sim/window/memory_renderer.h"

namespace understudy {

// In whole pixels, right and bottom outside; within the target.
struct ClipBox {
  int left = 0;
  int top = 0;
  int right = 0;
  int bottom = 0;
};

// `count` indices, three to a triangle. A pixel belongs to a triangle when its middle lies inside;
// on an edge that two share, to exactly one of them.
void draw_triangles(const DrawTarget& target, const ClipBox& clip, const Sampled& texture,
                    const ImDrawVert* vertices, const ImDrawIdx* indices, unsigned count);

}  // namespace understudy
