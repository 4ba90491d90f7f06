// Pins: one part each, of the right sort, not those of the serial port.
#include <algorithm>
#include <map>

#include "sim/model/kinds.h"
#include "sim/panel/check_report.h"
#include "sim/panel/control_kinds.h"
#include "sim/panel/mistakes.h"
#include "sim/panel/output_kinds.h"
#include "sim/panel/pins.h"

namespace understudy {
namespace {

// Dimming is asked for by more steps than dark and full.
bool wants_to_dim(const OutputDescription& output) {
  const bool lamp = output.kind == OutputKind::kLamp || output.kind == OutputKind::kRgb;
  const std::int64_t steps = output.sends.high - output.sends.low;
  return lamp && (steps > 1 || steps < -1);
}

bool is_known(const BoardDescription& board, const std::string& pin) {
  return has_pin(board.digital_pins, pin) || has_pin(board.analogue_pins, pin) ||
         has_pin(board.serial_pins, pin);
}

// Some pins were not left to give out.
template <class Part>
void check_missing(const Part& part, std::vector<Remark>& remarks) {
  const auto missing = std::count(part.pins.begin(), part.pins.end(), "");
  if (missing == 0) return;
  const bool one = part.pins.size() == 1;
  const std::string which = one ? "no pin of its kind is left on this board"
                                : "for " + std::to_string(missing) + " of its " +
                                      std::to_string(part.pins.size()) +
                                      " pins none of their kind is left on this board";
  remarks.push_back({Severity::kWarning, part.name, which,
                     std::string("take a board with more pins, or give it ") +
                         (one ? "one with pin =" : "some with pins =")});
}

// What holds for every pin: it is there, and is not the serial port's. True where more can be said.
bool check_any(const BoardDescription& board, const PinRow& row, std::vector<Remark>& remarks) {
  if (row.pin.empty()) return false;  // told once for the part
  if (!is_known(board, row.pin)) {
    remarks.push_back({Severity::kWarning, row.part,
                       "pin " + row.pin + " is none of this board's pins",
                       "the board has " + either(board.analogue_pins) + " and " +
                           board.digital_pins.front() + " to " + board.digital_pins.back()});
    return false;
  }
  if (!has_pin(board.serial_pins, row.pin)) return true;
  remarks.push_back({Severity::kWrong, row.part,
                     "pin " + row.pin + " belongs to the serial port, which speaks to the game",
                     "take another pin"});
  return false;
}

// A digital pin that a contact or a row of the matrix is read on.
void check_digital(const BoardDescription& board, const PinRow& row, bool pulled_up,
                   std::vector<Remark>& remarks) {
  if (!has_pin(board.digital_pins, row.pin)) {
    remarks.push_back(
        {Severity::kWrong, row.part, "pin " + row.pin + " reads pots only", "take a digital pin"});
  }
  if (row.pin == kPinOfBoardLamp && pulled_up) {
    remarks.push_back({Severity::kHint, row.part,
                       "many boards have a lamp of their own on " + row.pin +
                           ", which drags it down so that the pull-up may not read as 1",
                       "take another pin"});
  }
}

void check_control(const BoardDescription& board, const ControlDescription& control,
                   std::vector<PinRow>& rows, std::vector<Remark>& remarks) {
  const ControlKindRow& kind = control_kind(control.kind);
  check_missing(control, remarks);
  if (control.cell.given()) {
    rows.push_back({"", control.name,
                    std::string(kind_word(control.kind)) + ", row " +
                        std::to_string(control.cell.row + 1) + " and column " +
                        std::to_string(control.cell.column + 1) + " of the matrix"});
  }
  for (std::size_t n = 0; n < control.pins.size(); ++n) {
    rows.push_back({control.pins[n], control.name, kind.pin_text(control, n)});
    const PinRow& row = rows.back();
    if (!check_any(board, row, remarks)) continue;
    if (!is_analogue_pin(control, n)) {
      check_digital(board, row, control.contact.wired == Wiring::kPullUp, remarks);
    } else if (!has_pin(board.analogue_pins, row.pin)) {
      remarks.push_back(
          {Severity::kWrong, control.name,
           "pin " + row.pin + " cannot read " + std::string(kind.one) + ", for it is not analogue",
           "take one of " + either(board.analogue_pins)});
    }
  }
}

void check_matrix_pins(const PanelDescription& panel, std::vector<PinRow>& rows,
                       std::vector<Remark>& remarks) {
  const auto look = [&](const std::vector<std::string>& pins, const char* what, bool pulled_up) {
    for (std::size_t n = 0; n < pins.size(); ++n) {
      rows.push_back({pins[n], "matrix", what + std::to_string(n + 1)});
      if (check_any(panel.board, rows.back(), remarks))
        check_digital(panel.board, rows.back(), pulled_up, remarks);
    }
  };
  look(panel.matrix.row_pins, "row ", true);
  look(panel.matrix.column_pins, "column ", false);
}

// "lamp, dims", "rgb, r, on or off", "gauge"
std::string output_text(const BoardDescription& board, const OutputDescription& output,
                        std::size_t n) {
  std::string text(kind_word(output.kind));
  if (output.kind == OutputKind::kDigits) return text + (n == 0 ? ", data" : ", clock");
  const std::string_view part = output.pins.size() > 1 ? line_parts(output)[n] : "";
  if (!part.empty()) text += ", " + std::string(part);
  const bool lamp = output.kind == OutputKind::kLamp || output.kind == OutputKind::kRgb;
  if (!lamp) return text;
  return text + (has_pin(board.pwm_pins, output.pins[n]) ? ", dims" : ", on or off");
}

void check_output(const BoardDescription& board, const OutputDescription& output,
                  std::vector<PinRow>& rows, std::vector<Remark>& remarks) {
  check_missing(output, remarks);
  for (std::size_t n = 0; n < output.pins.size(); ++n) {
    rows.push_back({output.pins[n], output.name, output_text(board, output, n)});
    const std::string& pin = output.pins[n];
    if (!check_any(board, rows.back(), remarks)) continue;
    if (!has_pin(board.digital_pins, pin)) {
      remarks.push_back(
          {Severity::kWrong, output.name,
           "pin " + pin + " cannot drive " + std::string(output_kind(output.kind).one),
           "take a digital pin"});
    } else if (wants_to_dim(output) && !has_pin(board.pwm_pins, pin)) {
      remarks.push_back({Severity::kWarning, output.name,
                         "pin " + pin + " cannot dim: the lamp is dark or full, nothing between",
                         "take one of " + either(board.pwm_pins)});
    }
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
    const bool itself = std::count(parts.begin(), parts.end(), parts[0]) ==
                        static_cast<std::ptrdiff_t>(parts.size());
    if (itself) names = "two pins of " + parts[0];
    remarks.push_back({Severity::kWrong, pin, names + " are on the same pin",
                       itself ? "give each of them its own" : "give each a pin of its own"});
  }
}

}  // namespace

std::vector<PinRow> check_pins(const PanelDescription& panel, std::vector<Remark>& remarks) {
  std::vector<PinRow> rows;
  for (const ControlDescription& control : panel.controls)
    check_control(panel.board, control, rows, remarks);
  check_matrix_pins(panel, rows, remarks);
  for (const OutputDescription& output : panel.outputs)
    check_output(panel.board, output, rows, remarks);
  check_double_use(rows, remarks);
  return rows;
}

}  // namespace understudy
