// A session in virtual time for `panel --picture`: no links, no clock, the same each time.
#pragma once

#include "sim/app/panel_arguments.h"
#include "sim/window/exchange.h"

namespace understudy {

// Plays for --for, else kPictureAfterDefault, with the hands that were asked for and somebody who
// takes all that the panel sends; then the exchange has one view and all that passed. Errors:
// kUnusable, as plan_seats and said_hands.
Result<Done> play_for_picture(const PanelArguments& arguments, Exchange& exchange);

}  // namespace understudy
