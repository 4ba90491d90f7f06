// Pots choose first, for they have the fewest pins, then lamps, then contacts.
#include "sim/panel/pins.h"

#include <algorithm>
#include <charconv>

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

  // The first free pin of `pins` that satisfies `fits`, or ""; the one with the board's own lamp
  // only where no other is left.
  template <class Fits>
  std::string take(const Pins& pins, Fits fits) {
    std::string taken;
    for (const std::string& pin : pins) {
      if (has_pin(taken_, pin) || !fits(pin)) continue;
      taken = pin;
      if (pin != kPinOfBoardLamp) break;
    }
    if (!taken.empty()) taken_.push_back(taken);
    return taken;
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
      return !has_pin(board_.pwm_pins, candidate) && !has_pin(board_.analogue_pins, candidate) &&
             candidate != kPinOfBoardLamp;
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

// "D12" -> "D" and 12.
struct PinNumber {
  std::string letters;
  int number = 0;

  explicit PinNumber(const std::string& pin) {
    const std::size_t digits = std::min(pin.find_first_of("0123456789"), pin.size());
    letters = pin.substr(0, digits);
    std::from_chars(pin.data() + digits, pin.data() + pin.size(), number);
  }
};

bool follows(const std::string& pin, const std::string& before) {
  const PinNumber one(pin);
  const PinNumber other(before);
  return one.letters == other.letters && one.number == other.number + 1;
}

}  // namespace

std::string pin_runs(const std::vector<std::string>& pins) {
  std::vector<std::string> runs;
  for (std::size_t first = 0, next = 0; first < pins.size(); first = next) {
    for (next = first + 1; next < pins.size() && follows(pins[next], pins[next - 1]);) ++next;
    runs.push_back(pins[first] + (next - first > 1 ? " to " + pins[next - 1] : ""));
  }
  std::string text;
  for (std::size_t i = 0; i < runs.size(); ++i)
    text += (i == 0 ? "" : i + 1 == runs.size() ? " and " : ", ") + runs[i];
  return text;
}

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
