// What areas.cpp makes its rows of: how each area draws itself. A new area is its own file, a line
// here and a row there.
#pragma once

#include "sim/window/areas.h"

namespace understudy {

void draw_box(AreaContext& context);
void draw_charts(AreaContext& context);
void draw_game_output(AreaContext& context);
void draw_links(AreaContext& context);
void draw_recording(AreaContext& context);
void draw_supply(AreaContext& context);
void draw_traffic(AreaContext& context);
void draw_words(AreaContext& context);

}  // namespace understudy
