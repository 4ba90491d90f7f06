// Resting places and their noise; see idle_watch.h.
#include "scenarios/tram/game/input/idle_watch.h"

#include <algorithm>
#include <cmath>

namespace understudy::tram {

bool IdleWatch::moved(Resting& resting, int now, double seconds) const {
  const double gap = now - resting.place;
  if (std::abs(gap) <= kPotMoved) {
    resting.away_s = 0.0;
    resting.place += std::clamp(gap, -kPotDrift_per_s * seconds, kPotDrift_per_s * seconds);
    return false;
  }
  resting.away_s += seconds;
  if (resting.away_s < kPotMoved_s) return false;
  resting = {.place = static_cast<double>(now)};
  return true;
}

bool IdleWatch::panel_moved(const Controls& now, double seconds) {
  if (!known_) {  // where it stands after a start or a pulled plug is no hand's doing
    power_ = {.place = static_cast<double>(now.power)};
    heater_ = {.place = static_cast<double>(now.heater)};
    sander_ = now.sander;
    known_ = true;
  }
  const bool power = moved(power_, now.power, seconds);
  const bool heater = moved(heater_, now.heater, seconds);
  const bool sander = now.sander != sander_;
  sander_ = now.sander;
  return power || heater || sander || now.bell_presses > 0 || now.door_presses > 0;
}

void IdleWatch::look(const PanelReading& panel, const Keyboard& keyboard, double seconds) {
  still_for_s_ += seconds;
  if (keyboard.busy()) still_for_s_ = 0.0;
  if (panel.link != PanelLink::fresh) {
    known_ = false;
  } else if (panel_moved(panel.controls, seconds)) {
    still_for_s_ = 0.0;
  }
}

}  // namespace understudy::tram
