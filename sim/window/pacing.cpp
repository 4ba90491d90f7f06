// Frames come as often as what changed deserves; views are looked at somewhat more often, so that a
// lamp is on the screen soon after it was lit.
#include "sim/window/pacing.h"

#include <algorithm>

namespace understudy {

Pace pace(const Moment& moment) {
  if (!moment.visible) {
    const bool ask = moment.since_asked >= kRest;  // so that what passed meanwhile is not lost
    return {.draw = false, .ask = ask, .wait = kRest};
  }
  const bool moving = moment.input || moment.animating || moment.change == ViewChange::kFace;
  const Duration between = moving                                  ? kSmooth
                           : moment.change == ViewChange::kTraffic ? kReading
                                                                   : kRest;
  Pace found;
  found.draw = moment.since_frame >= between;
  const Duration look = moving ? kSmooth : kLooking;
  found.ask = moment.since_asked >= look;
  const Duration to_frame = found.draw ? between : between - moment.since_frame;
  const Duration to_look = found.ask ? look : look - moment.since_asked;
  found.wait = std::clamp(std::min(to_frame, to_look), milliseconds(1), kRest);
  return found;
}

}  // namespace understudy
