// What a newer view shows that an older one did not: whether there is anything to draw.
#pragma once

#include "sim/window/pacing.h"
#include "sim/window/session_view.h"

namespace understudy {

ViewChange change_between(const SessionView& older, const SessionView& newer);

}  // namespace understudy
