// How exactly the system rings its timers for this program.
#pragma once

namespace understudy {

// Asks for the most exact timers that an ordinary program may have. Where there is nothing to ask
// for, does nothing.
void ask_for_precise_timers();

}  // namespace understudy
