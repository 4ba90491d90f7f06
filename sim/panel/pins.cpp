// What is read by the converter chooses first, for it has the fewest pins, then outputs, then
// contacts.
#include "sim/panel/pins.h"

#include <algorithm>
#include <charconv>

#include "sim/model/kinds.h"

namespace understudy {
namespace {

using Pins = std::vector<std::string>;

// A servo and a buzzer are told by pulses as well; a driver of digits by two plain wires.
bool takes_pwm(OutputKind kind) {
  return kind != OutputKind::kDigits;
}

class PinBoard {
 public:
  explicit PinBoard(const PanelDescription& panel)
      : board_(panel.board), taken_(panel.board.serial_pins) {
    const auto add = [this](const Pins& pins) {
      taken_.insert(taken_.end(), pins.begin(), pins.end());
    };
    add(panel.matrix.row_pins);
    add(panel.matrix.column_pins);
    for (const ControlDescription& control : panel.controls) add(control.pins);
    for (const OutputDescription& output : panel.outputs) add(output.pins);
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

  std::string for_analogue() {
    return take(board_.analogue_pins, [](const std::string&) { return true; });
  }
  // What dims gets a pin that can; the rest leaves those alone while there are others.
  std::string for_output(const OutputDescription& output) {
    if (!takes_pwm(output.kind)) return for_contact();
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
  for (ControlDescription& control : panel.controls) control.pins.resize(pins_needed(control));
  for (OutputDescription& output : panel.outputs) output.pins.resize(pins_needed(output));
  PinBoard board(panel);
  const auto give_controls = [&](bool analogue) {
    for (ControlDescription& control : panel.controls) {
      for (std::size_t n = 0; n < control.pins.size(); ++n) {
        if (!control.pins[n].empty() || is_analogue_pin(control, n) != analogue) continue;
        control.pins[n] = analogue ? board.for_analogue() : board.for_contact();
      }
    }
  };
  give_controls(true);
  for (OutputDescription& output : panel.outputs)
    for (std::string& pin : output.pins)
      if (pin.empty()) pin = board.for_output(output);
  give_controls(false);
}

}  // namespace understudy
