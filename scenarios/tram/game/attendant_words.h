// What to do about the controller, in words for whoever looks after the place and has never seen
// the program: how it is, what that means, which plug, which command.
#pragma once

#include <string>
#include <vector>

#include "scenarios/tram/game/input/panel_input.h"

namespace understudy::tram {

struct Advice {
  std::string how_it_is;           // "controller stale"
  std::string meaning;             // one sentence
  std::vector<std::string> steps;  // in the order in which to try them; none: all is well
};

// Steps are at most kStepLength characters, so that they fit on the screen; an address is shortened
// from its middle where it is longer than that allows.
constexpr std::size_t kStepLength = 54;
Advice advice_for(const PanelReading& reading);

}  // namespace understudy::tram
