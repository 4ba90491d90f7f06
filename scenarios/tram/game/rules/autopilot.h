// Drives a shift by itself, on the timetable: for the times when nobody plays, and in the tests as
// the proof that the line can be driven well in any weather. Uses what a driver can see, no more.
#pragma once

#include "scenarios/tram/game/rules/controls.h"
#include "scenarios/tram/game/rules/shift.h"

namespace understudy::tram {

class Autopilot {
 public:
  // Call before each Shift::advance, and hand it the controls that come back.
  Controls look(const Shift& shift);

 private:
  int handle(const Shift& shift);
  // How far the tram may roll: to the mark, or to a signal that it has to stop at.
  double room_m(const Shift& shift);
  static double speed_wanted_mps(const Shift& shift, double room_m);
  static int door_presses(const Shift& shift);

  std::size_t stops_for_ = kSignals.size();  // committed to stop at it until it turns green
};

}  // namespace understudy::tram
