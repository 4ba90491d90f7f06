// Knobs that turn, for whatever has one: skirt and shadow stand still, as the daylight on them
// does; the pointer, the teeth and what else is cut into the knob turn.
#pragma once

#include "sim/window/face_parts.h"

namespace understudy {

struct KnobLook {
  float radius = 8;
  int teeth = 0;         // 0: fluted finely; else knurled with so many
  float pointer_mm = 0;  // how far a pointer's beak reaches beyond the knob
  bool line = true;      // a cream line from the middle to the edge
  std::uint32_t colour = paints::kBakelite;
};

// Three pictures: the shadow, what stands still, what turns.
std::vector<Sprite> paint_knob(const KnobLook& look, float pixels_per_mm);
void draw_knob(FaceDrawing& drawing, const Point& middle, float degrees, const PartMarks& marks);

}  // namespace understudy
