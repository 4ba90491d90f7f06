// The column of areas: each an index card with its heading over a red rule, that folds, and whose
// height the hand drags. What is on a card is the area's own work.
#pragma once

#include "sim/window/areas.h"
#include "sim/window/layout.h"

namespace understudy {

// Draws all areas that are wanted and not put away, one under the other, scrolling where they do
// not fit; draws into the current ImGui window, at `box`.
void draw_cards(AreaContext& context, const Box& box);

// Whether an area lies beside the face at all; "area.NAME.shown" in what is remembered.
bool is_shown(const Remembered& remembered, const Area& area);
void set_shown(Remembered& remembered, const Area& area, bool shown);

}  // namespace understudy
