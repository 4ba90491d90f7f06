// Where parts sit on the face when the file does not say: outputs in rows above, controls below.
#pragma once

#include "sim/model/panel_description.h"

namespace understudy {

// Places every part that has no place, and gives the face a size where it has none.
void lay_out(PanelDescription& panel);

}  // namespace understudy
