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
  } else if (driver_ == Driver::panel && !fresh) {
    driver_ = Driver::nobody;
  }
  panel_was_here_ |= fresh;
}

DeskState Desk::merge(const PanelReading& panel, Keyboard& keyboard, double seconds) {
  choose_driver(panel, keyboard);
  DeskState state{.controls = keyboard.take(seconds), .driver = driver_};
  if (panel.link != PanelLink::fresh) return state;

  last_fresh_ = panel.controls;
  if (driver_ == Driver::panel) state.controls.power = panel.controls.power;
  state.controls.heater = panel.controls.heater;
  state.controls.bell |= panel.controls.bell;
  state.controls.sander |= panel.controls.sander;
  state.controls.bell_presses += panel.controls.bell_presses;
  state.controls.door_presses += panel.controls.door_presses;
  return state;
}

}  // namespace understudy::tram
