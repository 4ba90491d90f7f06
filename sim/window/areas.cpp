// The list of areas: one row each.
#include "sim/window/areas.h"

namespace understudy {

std::span<const Area> areas() { return {}; }

}  // namespace understudy
