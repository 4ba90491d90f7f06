// The face of a real box: the virtual one beside it, with its controls where the box's lines say.
#pragma once

#include <memory>

#include "sim/window/session_view.h"

namespace understudy {

// A copy of the view in which every seat whose source is a real box shows that box's controls, as
// far as its newest line tells; the view itself where no seat is one. Takes milliseconds.
std::shared_ptr<const SessionView> with_boxes_shown(std::shared_ptr<const SessionView> view);

}  // namespace understudy
