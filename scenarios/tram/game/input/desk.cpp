// The change of hands described in desk.h.
#include "scenarios/tram/game/input/desk.h"

#include <cstdlib>

namespace understudy::tram {

void Desk::choose_driver(const PanelReading& panel, Keyboard& keyboard) {
  const bool fresh = panel.link == PanelLink::fresh;
  const int handle = panel.controls.power;
  if (keyboard.touched()) {
    if (driver_ == Driver::panel) keyboard.place_handle(last_fresh_.power);
    driver_ = Driver::keyboard;
    if (fresh) panel_handle_then_ = handle;
  } else if (fresh && driver_ != Driver::panel) {
    const bool moved = std::abs(handle - panel_handle_then_) > kHandleMoved;
    if (moved || !panel_was_here_ || driver_ == Driver::nobody) driver_ = Driver::panel;
  } else if (driver_ == Driver::panel && not_fresh_for_s_ > kForgiven_s) {
    driver_ = Driver::nobody;
  }
  panel_was_here_ |= fresh;
}

DeskState Desk::merge(const PanelReading& panel, Keyboard& keyboard, double seconds) {
  const bool fresh = panel.link == PanelLink::fresh;
  not_fresh_for_s_ = fresh ? 0.0 : not_fresh_for_s_ + seconds;
  choose_driver(panel, keyboard);
  if (fresh) last_fresh_ = panel.controls;

  const Controls keys = keyboard.take(seconds);
  DeskState state{.controls = keys, .driver = driver_};
  if (driver_ == Driver::keyboard && !fresh) return state;

  // Presses are believed only in the frame that brought them; levels for as long as forgiven.
  const bool believed = not_fresh_for_s_ <= kForgiven_s;
  if (driver_ != Driver::keyboard) state.controls.power = last_fresh_.power;
  state.controls.heater = last_fresh_.heater;
  state.controls.bell |= believed && last_fresh_.bell;
  state.controls.sander |= believed && last_fresh_.sander;
  if (fresh) {
    state.controls.bell_presses += panel.controls.bell_presses;
    state.controls.door_presses += panel.controls.door_presses;
  }
  return state;
}

}  // namespace understudy::tram
