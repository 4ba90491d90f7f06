// Pins: one part each, of the right sort, not those of the serial port.
#include <algorithm>
#include <map>

#include "sim/panel/check_report.h"
#include "sim/panel/mistakes.h"
#include "sim/panel/pins.h"

namespace understudy {
namespace {

std::string kind_of(const ControlDescription& control) {
  const char* wired = control.contact.wired == Wiring::kPullUp ? ", pull-up" : ", pull-down";
  switch (control.kind) {
    case ControlKind::kPot:
      return "pot";
    case ControlKind::kButton:
      return std::string("button") + wired;
    case ControlKind::kSwitch:
      return std::string("switch") + wired;
  }
  return "";
}

// Dimming is asked for by more steps than dark and full.
bool wants_to_dim(const OutputDescription& output) {
  const std::int64_t steps = output.sends.high - output.sends.low;
  return steps > 1 || steps < -1;
}

bool is_known(const BoardDescription& board, const std::string& pin) {
  return has_pin(board.digital_pins, pin) || has_pin(board.analogue_pins, pin) ||
         has_pin(board.serial_pins, pin);
}

// What holds for every part: the pin is there, and is not the serial port's.
void check_any(const BoardDescription& board, const PinRow& row, std::vector<Remark>& remarks) {
  if (row.pin.empty()) {
    remarks.push_back({Severity::kWarning, row.part, "no pin of its kind is left on this board",
                       "take a board with more pins, or give it one with pin ="});
  } else if (!is_known(board, row.pin)) {
    remarks.push_back({Severity::kWarning, row.part,
                       "pin " + row.pin + " is none of this board's pins",
                       "the board has " + either(board.analogue_pins) + " and " +
                           board.digital_pins.front() + " to " + board.digital_pins.back()});
  } else if (has_pin(board.serial_pins, row.pin)) {
    remarks.push_back({Severity::kWrong, row.part,
                       "pin " + row.pin + " belongs to the serial port, which speaks to the game",
                       "take another pin"});
  }
}

void check_control(const BoardDescription& board, const ControlDescription& control,
                   std::vector<Remark>& remarks) {
  const std::string& pin = control.pin;
  const bool pot = control.kind == ControlKind::kPot;
  if (pin.empty() || !is_known(board, pin) || has_pin(board.serial_pins, pin)) return;
  if (pot && !has_pin(board.analogue_pins, pin)) {
    remarks.push_back({Severity::kWrong, control.name,
                       "pin " + pin + " cannot read a pot, for it is not analogue",
                       "take one of " + either(board.analogue_pins)});
  }
  if (!pot && !has_pin(board.digital_pins, pin)) {
    remarks.push_back(
        {Severity::kWrong, control.name, "pin " + pin + " reads pots only", "take a digital pin"});
  }
  if (!pot && pin == kPinOfBoardLamp && control.contact.wired == Wiring::kPullUp) {
    remarks.push_back({Severity::kHint, control.name,
                       "many boards have a lamp of their own on " + pin +
                           ", which drags it down so that the pull-up may not read as 1",
                       "take another pin"});
  }
}

void check_output(const BoardDescription& board, const OutputDescription& output,
                  std::vector<Remark>& remarks) {
  const std::string& pin = output.pin;
  if (pin.empty() || !is_known(board, pin) || has_pin(board.serial_pins, pin)) return;
  if (!has_pin(board.digital_pins, pin)) {
    remarks.push_back({Severity::kWrong, output.name, "pin " + pin + " cannot drive a lamp",
                       "take a digital pin"});
  } else if (wants_to_dim(output) && !has_pin(board.pwm_pins, pin)) {
    remarks.push_back({Severity::kWarning, output.name,
                       "pin " + pin + " cannot dim: the lamp is dark or full, nothing between",
                       "take one of " + either(board.pwm_pins)});
  }
}

void check_double_use(const std::vector<PinRow>& rows, std::vector<Remark>& remarks) {
  std::map<std::string, std::vector<std::string>> parts_on;
  for (const PinRow& row : rows)
    if (!row.pin.empty()) parts_on[row.pin].push_back(row.part);
  for (const auto& [pin, parts] : parts_on) {
    if (parts.size() < 2) continue;
    std::string names;
    for (const std::string& part : parts) names += (names.empty() ? "" : " and ") + part;
    remarks.push_back(
        {Severity::kWrong, pin, names + " are on the same pin", "give each a pin of its own"});
  }
}

}  // namespace

std::vector<PinRow> check_pins(const PanelDescription& panel, std::vector<Remark>& remarks) {
  std::vector<PinRow> rows;
  for (const ControlDescription& control : panel.controls) {
    rows.push_back({control.pin, control.name, kind_of(control)});
    check_any(panel.board, rows.back(), remarks);
    check_control(panel.board, control, remarks);
  }
  for (const OutputDescription& output : panel.outputs) {
    const bool dims = has_pin(panel.board.pwm_pins, output.pin);
    rows.push_back({output.pin, output.name, dims ? "lamp, dims" : "lamp, on or off"});
    check_any(panel.board, rows.back(), remarks);
    check_output(panel.board, output, remarks);
  }
  check_double_use(rows, remarks);
  return rows;
}

}  // namespace understudy
