// What is peculiar to a kind of control: what it reads, what it loses, what surprises a game.
#include <algorithm>

#include "sim/base/units.h"
#include "sim/panel/check_report.h"
#include "sim/panel/control_kinds.h"

namespace understudy {
namespace {

// The converter wants sources of about 10 kohm or less (ATmega328P sheet DS40002061B, 24.6.1).
constexpr std::int64_t kSourceAdvisedMohm = 10'000'000;
// How fast an encoder of the usual make may be turned (Bourns PEC11R sheet: 60 turns a minute).
constexpr std::int64_t kTurnsAMinuteMax = 60;
constexpr std::int64_t kMinuteNs = 60'000'000'000;

void check_what_is_read(const PanelDescription& panel, std::vector<Remark>& remarks) {
  std::string names;
  std::size_t count = 0;
  const auto add = [&](const std::string& name) { names += (count++ == 0 ? "" : ", ") + name; };
  for (const ControlDescription& control : panel.controls) {
    if (control.contact.wired != Wiring::kPullUp) continue;
    const bool contact =
        control.kind == ControlKind::kButton || control.kind == ControlKind::kSwitch;
    if (contact && !control.sends.given) add(control.name);
    const bool presses = control.kind == ControlKind::kStick && control.stick.presses;
    if (presses && !control.stick.press_sends.given) add(part_name(control.name, "press"));
  }
  if (count == 0) return;
  remarks.push_back({Severity::kHint, names,
                     std::string(count == 1 ? "carries" : "carry") +
                         " what the pin reads: 0 when pressed, 1 when not",
                     "sends = [0, 1] turns it round, as a program with a ! does"});
}

// A pin reads 0 up to 0.3 of its supply and 1 from 0.6 on (ATmega328P sheet 8271H, table 29-1); a
// closed contact and the resistor at the pin share the supply between them.
void check_contact(const ControlDescription& control, const BoardDescription& board,
                   std::vector<Remark>& remarks) {
  const bool stick = control.kind == ControlKind::kStick;
  const bool contact = control.kind == ControlKind::kButton ||
                       control.kind == ControlKind::kSwitch ||
                       control.kind == ControlKind::kSelector ||
                       control.kind == ControlKind::kEncoder || (stick && control.stick.presses);
  if (!contact) return;
  const std::int64_t tenths = control.contact.wired == Wiring::kPullUp ? 3 : 4;
  const std::int64_t most_mohm = board.pull_up_mohm * tenths / (10 - tenths);
  if (control.contact.contact_mohm <= most_mohm) return;
  remarks.push_back(
      {Severity::kWarning, stick ? part_name(control.name, "press") : control.name,
       "a contact of " + write_quantity(control.contact.contact_mohm, Unit::kResistance) +
           " never reads as closed beside the " +
           write_quantity(board.pull_up_mohm, Unit::kResistance) + " that hold its pin",
       "contact = at most " +
           write_quantity(most_mohm / 1'000'000 * 1'000'000, Unit::kResistance)});
}

void check_course(const ControlDescription& control, std::vector<Remark>& remarks) {
  if (control.kind != ControlKind::kSensor || control.sensor.values_ppm.empty()) return;
  if (control.sensor.course == SensorCourse::kValues) return;
  remarks.push_back({Severity::kWarning, control.name,
                     "has values, but another course: none of them is ever measured",
                     "course = \"values\", or take the values out"});
}

void check_source(const ControlDescription& control, std::vector<Remark>& remarks) {
  const bool analogue = pins_needed(control) > 0 && is_analogue_pin(control, 0);
  if (!analogue || control.pot.source_mohm <= kSourceAdvisedMohm) return;
  const bool sensor = control.kind == ControlKind::kSensor;
  // What the file says, or what follows from the track.
  const bool given = sensor || control.pot.source_mohm != control.pot.resistance_mohm / 4;
  const std::int64_t shown_mohm = given ? control.pot.source_mohm : control.pot.resistance_mohm;
  const std::string what = given ? "a source" : std::string(control_kind(control.kind).one);
  remarks.push_back({Severity::kHint, control.name,
                     what + " of " + write_quantity(shown_mohm, Unit::kResistance) +
                         " is too weak: part of the channel read before shows in it",
                     given ? "at most 10 kohm is what the converter wants; an amplifier helps"
                           : "10 kohm is what most take"});
}

// Between two readings the contacts may move on by one edge at most: two look the same whichever
// way round, and three like one backwards.
void check_encoder(const ControlDescription& control, Duration loop, std::vector<Remark>& remarks) {
  if (control.kind != ControlKind::kEncoder || control.encoder.interrupts) return;
  const std::int64_t edges = std::int64_t{4} * control.encoder.pulses;
  const std::int64_t turns_a_minute = kMinuteNs / (edges * loop.ns);
  if (turns_a_minute >= kTurnsAMinuteMax) return;
  const Duration longest{kMinuteNs / (edges * kTurnsAMinuteMax) / 10'000 * 10'000};
  remarks.push_back({Severity::kWarning, control.name,
                     "read once a loop of " + rounded(loop) + " it loses steps above " +
                         std::to_string(turns_a_minute) + " turns a minute, and hands reach " +
                         std::to_string(kTurnsAMinuteMax),
                     "read = \"every edge\", or a loop of at most " + write_duration(longest)});
}

// A number for each place differs from the others only where there are enough of them.
void check_selector(const ControlDescription& control, std::vector<Remark>& remarks) {
  if (control.kind != ControlKind::kSelector) return;
  const std::int64_t steps = control.selector.places - 1;
  const std::int64_t span = control.sends.high - control.sends.low;
  if (span % steps != 0) {
    remarks.push_back({Severity::kWarning, control.name,
                       "its places are not evenly spread over what it sends",
                       "the ends of sends differ by a multiple of " + std::to_string(steps)});
  }
  if (!control.selector.makes_first) return;
  remarks.push_back({Severity::kHint, control.name,
                     "closes the next contact before it opens the last: between two places a "
                     "reading finds both closed, and the lower place counts",
                     ""});
}

// Four parts at the corners of a rectangle: three that are down make the fourth seem so.
void check_matrix_ghosts(const PanelDescription& panel, std::vector<Remark>& remarks) {
  if (panel.matrix.diodes) return;
  const auto taken = [&](int row, int column) {
    return std::any_of(panel.controls.begin(), panel.controls.end(),
                       [&](const ControlDescription& control) {
                         return control.cell.row == row && control.cell.column == column;
                       });
  };
  for (const ControlDescription& one : panel.controls) {
    for (const ControlDescription& other : panel.controls) {
      const MatrixCell& a = one.cell;
      const MatrixCell& b = other.cell;
      if (!a.given() || !b.given() || b.row <= a.row || b.column == a.column) continue;
      if (!taken(a.row, b.column) || !taken(b.row, a.column)) continue;
      remarks.push_back({Severity::kWarning, "matrix",
                         "without diodes three buttons that are down at corners of a rectangle, "
                         "such as " +
                             one.name + " and " + other.name +
                             " and one between, make the fourth seem down",
                         "a diode at each button, and diodes = true"});
      return;
    }
  }
}

}  // namespace

void check_controls(const PanelDescription& panel, Duration loop, std::vector<Remark>& remarks) {
  check_what_is_read(panel, remarks);
  for (const ControlDescription& control : panel.controls) {
    check_source(control, remarks);
    check_contact(control, panel.board, remarks);
    check_course(control, remarks);
    check_encoder(control, loop, remarks);
    check_selector(control, remarks);
  }
  check_matrix_ghosts(panel, remarks);
}

}  // namespace understudy
