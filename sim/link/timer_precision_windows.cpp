// Without this the system rings timers only every 15.6 ms.
#include <windows.h>
// Needs what windows.h defines.
#include <timeapi.h>

#include "sim/link/timer_precision.h"

namespace understudy {

void ask_for_precise_timers() {
  timeBeginPeriod(1);
}

}  // namespace understudy
