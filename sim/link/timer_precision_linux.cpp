// Linux lets timers of ordinary threads ring up to 50 us late, to save wake-ups; this turns it off.
#include <sys/prctl.h>

#include "sim/link/timer_precision.h"

namespace understudy {

// 1 ns is the least that the kernel takes (0 would mean its own default; prctl(2)).
void ask_for_precise_timers() {
  prctl(PR_SET_TIMERSLACK, 1UL, 0UL, 0UL, 0UL);
}

}  // namespace understudy
