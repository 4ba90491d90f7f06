// The time line of a recording that is looked at: where it stands, what happened where, and the
// words that play, go line by line, and repeat a part. Along the foot of the window.
#pragma once

#include <string>

#include "sim/window/areas.h"
#include "sim/window/layout.h"

namespace understudy {

// Draws into `box` and puts wishes. REQUIRES: context.view.timeline
void draw_timeline(AreaContext& context, const Box& box);

// "2:03.250", "1:02:03.250" from an hour on.
std::string time_on_line(Instant t);

}  // namespace understudy
