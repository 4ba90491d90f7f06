// The keyboard as a desk: keys push a handle that stays where it is left, as the real one does.
// Which key of a keyboard means what is the window's business; this file knows no key codes.
#pragma once

#include <array>
#include <cstddef>

#include "scenarios/tram/game/rules/controls.h"

namespace understudy::tram {

enum class Action {
  more_power,
  less_power,
  coast,  // puts the handle into the middle
  more_heat,
  less_heat,
  bell,
  doors,
  sander,
};
constexpr std::size_t kActionCount = 8;

class Keyboard {
 public:
  // Repeats of a key that is held already must not be passed on.
  void press(Action action);
  void release(Action action);
  void notice() { pressed_ = true; }  // a key that moves nothing here: somebody is there
  void release_all();                 // the window has lost the keyboard

  // Moves handle and heater by the time that keys were held. Press counts are those since the last
  // call.
  Controls take(double seconds);

  // A key that moves the handle was pressed since the last call of take().
  bool touched() const { return touched_; }
  // Any key of the game is down, or was pressed since the last call of take().
  bool busy() const;
  // Lets the handle begin where the panel's stands, so that a change of hands makes no jump.
  void place_handle(int wire_number);

 private:
  bool held(Action action) const { return held_[static_cast<std::size_t>(action)]; }

  std::array<bool, kActionCount> held_{};
  double handle_ = kHandleMiddle;
  double heater_ = 400.0;
  bool sander_ = false;
  bool touched_ = false;
  bool pressed_ = false;
  int bell_presses_ = 0;
  int door_presses_ = 0;
};

}  // namespace understudy::tram
