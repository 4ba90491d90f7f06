// Pots choose first, for they have the fewest pins, then lamps, then contacts.
#include "sim/panel/pins.h"

#include <algorithm>

namespace understudy {
namespace {

using Pins = std::vector<std::string>;

class PinBoard {
 public:
  explicit PinBoard(const PanelDescription& panel)
      : board_(panel.board), taken_(panel.board.serial_pins) {
    for (const ControlDescription& control : panel.controls) taken_.push_back(control.pin);
    for (const OutputDescription& output : panel.outputs) taken_.push_back(output.pin);
  }

  // The first free pin of `pins` that satisfies `fits`, or "".
  template <class Fits>
  std::string take(const Pins& pins, Fits fits) {
    for (const std::string& pin : pins) {
      if (has_pin(taken_, pin) || !fits(pin)) continue;
      taken_.push_back(pin);
      return pin;
    }
    return "";
  }

  std::string for_pot() {
    return take(board_.analogue_pins, [](const std::string&) { return true; });
  }
  std::string for_lamp() {
    const std::string pin = take(board_.pwm_pins, [](const std::string&) { return true; });
    return pin.empty() ? any_digital() : pin;
  }
  std::string for_contact() {
    const std::string pin = take(board_.digital_pins, [this](const std::string& candidate) {
      return !has_pin(board_.pwm_pins, candidate) && !has_pin(board_.analogue_pins, candidate);
    });
    return pin.empty() ? any_digital() : pin;
  }

 private:
  std::string any_digital() {
    return take(board_.digital_pins, [](const std::string&) { return true; });
  }

  const BoardDescription& board_;
  Pins taken_;
};

}  // namespace

bool has_pin(const std::vector<std::string>& pins, const std::string& pin) {
  return std::find(pins.begin(), pins.end(), pin) != pins.end();
}

void give_out_pins(PanelDescription& panel) {
  PinBoard pins(panel);
  for (ControlDescription& control : panel.controls)
    if (control.pin.empty() && control.kind == ControlKind::kPot) control.pin = pins.for_pot();
  for (OutputDescription& output : panel.outputs)
    if (output.pin.empty()) output.pin = pins.for_lamp();
  for (ControlDescription& control : panel.controls)
    if (control.pin.empty() && control.kind != ControlKind::kPot) control.pin = pins.for_contact();
}

}  // namespace understudy
