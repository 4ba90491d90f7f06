// The keyboard's handle, heater and buttons; see keyboard.h.
#include "scenarios/tram/game/input/keyboard.h"

#include <algorithm>
#include <cmath>

namespace understudy::tram {

namespace {

constexpr double kHandlePerSecond = 450.0;  // from end to end in a little over two seconds
constexpr double kHeaterPerSecond = 400.0;

}  // namespace

void Keyboard::press(Action action) {
  pressed_ = true;
  held_[static_cast<std::size_t>(action)] = true;
  switch (action) {
    case Action::coast:
      handle_ = kHandleMiddle;
      [[fallthrough]];
    case Action::more_power:
    case Action::less_power:
      touched_ = true;
      break;
    case Action::bell:
      ++bell_presses_;
      break;
    case Action::doors:
      ++door_presses_;
      break;
    case Action::sander:
      sander_ = !sander_;
      break;
    case Action::more_heat:
    case Action::less_heat:
      break;
  }
}

void Keyboard::release(Action action) {
  held_[static_cast<std::size_t>(action)] = false;
}

void Keyboard::release_all() {
  held_ = {};
}

bool Keyboard::busy() const {
  return pressed_ || std::find(held_.begin(), held_.end(), true) != held_.end();
}

void Keyboard::place_handle(int wire_number) {
  handle_ = std::clamp(wire_number, 0, kPotTop);
}

Controls Keyboard::take(double seconds) {
  const int handle_way = held(Action::more_power) - held(Action::less_power);
  const int heater_way = held(Action::more_heat) - held(Action::less_heat);
  handle_ = std::clamp(handle_ + handle_way * kHandlePerSecond * seconds, 0.0, 1.0 * kPotTop);
  heater_ = std::clamp(heater_ + heater_way * kHeaterPerSecond * seconds, 0.0, 1.0 * kPotTop);
  const Controls controls{.power = static_cast<int>(std::lround(handle_)),
                          .heater = static_cast<int>(std::lround(heater_)),
                          .bell = held(Action::bell),
                          .sander = sander_,
                          .bell_presses = bell_presses_,
                          .door_presses = door_presses_};
  touched_ = false;
  pressed_ = false;
  bell_presses_ = 0;
  door_presses_ = 0;
  return controls;
}

}  // namespace understudy::tram
