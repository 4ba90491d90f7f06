// Where parts sit on the face when the file does not say: outputs in rows above, controls below;
// and how much room each takes.
#pragma once

#include "sim/model/panel_description.h"

namespace understudy {

// Room that a part takes on a face with what one turns or presses on it, micrometres. Sizes are
// what such parts usually have; common practice, no source.
struct Footprint {
  std::int64_t width_um = 0;
  std::int64_t height_um = 0;
};
Footprint footprint_of(const ControlDescription& control);
Footprint footprint_of(const OutputDescription& output);

// Places every part that has no place, and gives the face a size where it has none.
void lay_out(PanelDescription& panel);

}  // namespace understudy
