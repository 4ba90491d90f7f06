// When the window draws, asks the session for a newer view, and sleeps. No clock and no SDL here.
#pragma once

#include "sim/base/time.h"

namespace understudy {

// What a newer view shows that the one drawn last does not.
enum class ViewChange {
  kNone,
  kTraffic,  // only what passes: lines, counts, ages
  kFace,     // something on the face moved or changed its light, or the session as a whole
};

struct Moment {
  ViewChange change = ViewChange::kNone;
  bool input = false;      // the person or the desktop did something since the last frame
  bool animating = false;  // what was drawn last has not come to rest
  bool visible = true;     // neither minimised nor hidden
  Duration since_frame;
  Duration since_asked;
};

struct Pace {
  bool draw = false;
  bool ask = false;
  Duration wait;  // for an event; never longer than kRest
};

inline constexpr Duration kSmooth = milliseconds(16);   // between frames while things move
inline constexpr Duration kReading = milliseconds(40);  // while only lines and numbers pass
inline constexpr Duration kRest = milliseconds(1'000);  // while nothing changes
inline constexpr Duration kLooking = milliseconds(33);  // between views while nothing changes

Pace pace(const Moment& moment);

}  // namespace understudy
