// A converter's reading is the voltage over its reference, evenly (ideal converter); a contact's
// level is one end of the supply or the other (sim/board/pins.h).
#include "sim/window/value_words.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "sim/board/pwm.h"
#include "sim/model/kinds.h"

namespace understudy {
namespace {

std::string counts_of(const protocol::Field& field, double number) {
  const auto whole = static_cast<std::int64_t>(std::llround(number));
  const std::int64_t word = whole - field.min;
  if (word >= 0 && word < static_cast<std::int64_t>(field.words.size()))
    return field.words[static_cast<std::size_t>(word)];
  if (field.decimals == 0) return std::to_string(whole);
  return fmt::format("{:.{}f}", static_cast<double>(whole) / std::pow(10.0, field.decimals),
                     field.decimals);
}

// From `low` to `high`, which may be the smaller one.
double share_of(const Sends& sends, double number) {
  const auto low = static_cast<double>(sends.low);
  const auto high = static_cast<double>(sends.high);
  return high == low ? 0 : std::clamp((number - low) / (high - low), 0.0, 1.0);
}

std::string volts_text(double microvolts) {
  return fmt::format("{:.2f} V", microvolts / 1e6);
}

std::string percent_text(double share) {
  return fmt::format("{:.0f} %", share * 100);
}

void say_control(const Panel& panel, const FieldSource& source, double number, ValueWords& words) {
  const ControlDescription& control = panel.description.controls[source.part_of];
  const BoardDescription& board = panel.description.board;
  const double share = share_of(sends_of(control, source.part), number);
  const bool presses = control.kind == ControlKind::kStick && source.part == 2;
  switch (control.kind) {
    case ControlKind::kPot:
    case ControlKind::kSensor:
    case ControlKind::kStick:
      if (presses) break;
      words.percent = percent_text(share);
      words.volts = volts_text(share * static_cast<double>(board.reference_uv));
      return;
    case ControlKind::kSelector:
    case ControlKind::kEncoder:
      return;
    case ControlKind::kButton:
    case ControlKind::kSwitch:
      break;
  }
  if (control.cell.given()) return;
  const bool down = share >= 0.5;
  const bool high = down != (control.contact.wired == Wiring::kPullUp);
  words.volts = volts_text(high ? static_cast<double>(board.supply_uv) : 0);
}

void say_output(const Panel& panel, const FieldSource& source, double number, ValueWords& words) {
  const OutputDescription& output = panel.description.outputs[source.part_of];
  const BoardDescription& board = panel.description.board;
  const double share = share_of(sends_of(output, source.part), number);
  if (output.kind == OutputKind::kDigits || output.kind == OutputKind::kBuzzer) return;
  words.percent = percent_text(share);
  if (output.kind == OutputKind::kGauge) return;
  const double duty = lamp_duty(std::llround(number), output, board);
  const double high = output.active_low ? 1 - duty : duty;
  words.volts = volts_text(high * static_cast<double>(board.supply_uv));
}

}  // namespace

std::string ValueWords::together() const {
  std::string text = counts;
  if (!volts.empty()) text += ", " + volts;
  if (!percent.empty()) text += ", " + percent;
  return text;
}

const protocol::Field& field_at(const Panel& panel, FieldPlace place) {
  return place.to_game ? panel.to_game_fields[place.field] : panel.to_panel_fields[place.field];
}

ValueWords value_words(const Panel& panel, FieldPlace place, double number) {
  ValueWords words;
  words.counts = counts_of(field_at(panel, place), number);
  if (place.to_game)
    say_control(panel, panel.to_game_sources[place.field], number, words);
  else
    say_output(panel, panel.to_panel_sources[place.field], number, words);
  return words;
}

bool has_two_levels(const Panel& panel, FieldPlace place) {
  const protocol::Field& field = field_at(panel, place);
  return field.max - field.min == 1;
}

}  // namespace understudy
