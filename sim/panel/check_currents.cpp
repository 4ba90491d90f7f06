// Currents of all outputs against the limits of pin, group of pins, chip and supply.
#include <algorithm>

#include "sim/base/units.h"
#include "sim/model/currents.h"
#include "sim/model/kinds.h"
#include "sim/panel/check_report.h"
#include "sim/panel/pins.h"
#include "sim/panel/preferred_values.h"

namespace understudy {
namespace {

// Below this an LED is hardly seen by daylight; common practice, no source.
constexpr std::int64_t kFaintUa = 1'000;

// A tenth of a milliampere is all that a resistor's tolerance lets anybody know.
std::string milliamperes(std::int64_t ua) {
  const std::int64_t tenths = (ua + 50) / 100;
  return std::to_string(tenths / 10) + "." + std::to_string(tenths % 10) + " mA";
}

std::string ohms(std::int64_t mohm) {
  return write_quantity(mohm, Unit::kResistance);
}

// Worked out without the pin's own resistance, so it is the most.
LampRow lamp_row(const BoardDescription& board, LampRow row) {
  row.current_ua = led_ua(board.supply_uv, row.forward_uv, row.resistor_mohm);
  if (row.current_ua == 0) return row;
  const std::int64_t least = resistance_for(board.supply_uv - row.forward_uv, board.pin_advised_ua);
  row.advised_e12_mohm = next_in_series(least, e12_values());
  row.advised_e24_mohm = next_in_series(least, e24_values());
  return row;
}

// The LEDs of a lamp or an rgb; none of others.
std::vector<LampRow> lamp_rows(const BoardDescription& board, const OutputDescription& output) {
  constexpr std::string_view kColours[] = {"red", "green", "blue"};
  std::vector<LampRow> rows;
  const bool rgb = output.kind == OutputKind::kRgb;
  if (!rgb && output.kind != OutputKind::kLamp) return rows;
  const auto parts = line_parts(output);
  for (std::size_t i = 0; i < parts.size(); ++i) {
    LampRow row;
    row.name = part_name(output.name, parts[i]);
    row.pin = i < output.pins.size() ? output.pins[i] : "";
    row.colour = rgb ? kColours[i] : output.colour;
    row.sinks = output.active_low;
    row.forward_uv = rgb ? output.rgb.forward_uv[i] : output.forward_uv;
    row.resistor_mohm = rgb ? output.rgb.resistor_mohm[i] : output.resistor_mohm;
    rows.push_back(lamp_row(board, std::move(row)));
  }
  return rows;
}

// What any other output draws at most.
DrawRow draw_row(const OutputDescription& output) {
  DrawRow row{output.name, std::string(kind_word(output.kind)), "", 0};
  switch (output.kind) {
    case OutputKind::kLamp:
    case OutputKind::kRgb:
      break;
    case OutputKind::kGauge:
      row.kind += ", moving";
      row.current_ua = std::max(output.gauge.moving_ua, output.gauge.idle_ua);
      break;
    case OutputKind::kBuzzer:
      row.current_ua = output.buzzer.sounding_ua;
      if (output.buzzer.transistor)
        row.kind += ", by a transistor";
      else if (!output.pins.empty())
        row.pin = output.pins[0];
      break;
    case OutputKind::kDigits: {
      // All segments of all digits, and the point if there is one.
      const int segments = 7 * output.digits.count + (output.sends.decimals > 0 ? 1 : 0);
      row.current_ua = segments * output.digits.segment_ua;
      break;
    }
  }
  return row;
}

std::string next_values(const LampRow& row, std::int64_t advised_ua) {
  std::string text = "take " + ohms(row.advised_e12_mohm) + " (E12)";
  if (row.advised_e24_mohm != row.advised_e12_mohm)
    text += " or " + ohms(row.advised_e24_mohm) + " (E24)";
  return text + ", the next value that keeps it at " + milliamperes(advised_ua);
}

void check_lamp(const BoardDescription& board, const LampRow& row, std::vector<Remark>& remarks) {
  if (row.current_ua == 0) {
    remarks.push_back({Severity::kWarning, row.name,
                       "an LED of " + write_quantity(row.forward_uv, Unit::kVoltage) +
                           " stays dark at " + write_quantity(board.supply_uv, Unit::kVoltage),
                       "take another colour or drive it from a higher supply by a transistor"});
  } else if (row.current_ua > board.pin_limit_ua) {
    remarks.push_back({Severity::kWrong, row.name,
                       milliamperes(row.current_ua) + " is above the " +
                           milliamperes(board.pin_limit_ua) + " that a pin may ever carry",
                       next_values(row, board.pin_advised_ua)});
  } else if (row.current_ua > board.pin_advised_ua) {
    remarks.push_back({Severity::kWarning, row.name,
                       milliamperes(row.current_ua) + " is above the " +
                           milliamperes(board.pin_advised_ua) + " that a pin should carry",
                       next_values(row, board.pin_advised_ua)});
  } else if (row.current_ua < kFaintUa) {
    remarks.push_back({Severity::kHint, row.name,
                       "with " + milliamperes(row.current_ua) + " it is hardly seen by daylight",
                       "a smaller resistor makes it brighter"});
  }
}

void check_buzzer(const BoardDescription& board, const DrawRow& row, std::vector<Remark>& remarks) {
  if (row.pin.empty() || row.current_ua <= board.pin_advised_ua) return;
  const bool wrong = row.current_ua > board.pin_limit_ua;
  remarks.push_back(
      {wrong ? Severity::kWrong : Severity::kWarning, row.name,
       milliamperes(row.current_ua) + " is above the " +
           milliamperes(wrong ? board.pin_limit_ua : board.pin_advised_ua) +
           (wrong ? " that a pin may ever carry" : " that a pin should carry"),
       "let a transistor drive it, with a diode across it if it has a coil, and say driven = "
       "\"by a transistor\""});
}

std::string span_of(const std::vector<std::string>& pins) {
  return (pins.size() == 1 ? "pin " : "pins ") + pin_runs(pins);
}

std::vector<GroupRow> group_rows(const BoardDescription& board, const Currents& currents,
                                 std::vector<Remark>& remarks) {
  std::vector<GroupRow> rows;
  for (const PortGroup& group : board.groups) {
    GroupRow row{group.pins, group.sinks, 0, group.limit_ua};
    for (const LampRow& lamp : currents.lamps)
      if (lamp.sinks == group.sinks && has_pin(group.pins, lamp.pin))
        row.used_ua += lamp.current_ua;
    for (const DrawRow& other : currents.others)
      if (!group.sinks && has_pin(group.pins, other.pin)) row.used_ua += other.current_ua;
    if (row.used_ua == 0) continue;
    if (row.used_ua > row.limit_ua) {
      remarks.push_back({Severity::kWarning, span_of(row.pins),
                         "with all lamps lit they carry " + milliamperes(row.used_ua) + ", above " +
                             milliamperes(row.limit_ua) + " for the group",
                         "larger resistors, lamps on other pins, or transistors"});
    }
    rows.push_back(std::move(row));
  }
  return rows;
}

void check_chip(const Currents& currents, std::vector<Remark>& remarks) {
  if (currents.chip_ua <= currents.chip_limit_ua) return;
  remarks.push_back({Severity::kWarning, "the chip",
                     "with all lamps lit it carries " + milliamperes(currents.chip_ua) +
                         ", above " + milliamperes(currents.chip_limit_ua),
                     "larger resistors, or transistors that take the lamps off the chip"});
}

// How many lamps, the hungriest first, may be lit while all else is at work; -1: not even none.
int lamps_at_once(const BoardDescription& board, const Currents& currents) {
  std::vector<std::int64_t> lamps;
  std::int64_t load_ua = currents.supply_ua;
  for (const LampRow& row : currents.lamps) {
    lamps.push_back(row.current_ua);
    load_ua -= row.current_ua;
  }
  std::sort(lamps.rbegin(), lamps.rend());
  if (gives_way(board, load_ua)) return -1;
  int count = 0;
  for (const std::int64_t ua : lamps) {
    load_ua += ua;
    if (gives_way(board, load_ua)) break;
    ++count;
  }
  return count;
}

void check_supply(const BoardDescription& board, Currents& currents, std::vector<Remark>& remarks) {
  const bool over = over_the_port(board, currents.supply_ua);
  currents.chip_uv = voltage_at_chip_uv(board, currents.supply_ua);
  currents.gives_way = gives_way(board, currents.supply_ua);
  currents.lamps_at_once = static_cast<int>(currents.lamps.size());
  if (!over && !currents.gives_way) return;
  std::string text = currents.others.empty() ? "with all lamps lit it carries "
                                             : "with everything at work it carries ";
  text += milliamperes(currents.supply_ua);
  if (over)
    text += ", above " + milliamperes(currents.supply_limit_ua);
  else
    text +=
        ", which leaves the chip less than " + write_quantity(board.brown_out_uv, Unit::kVoltage);
  std::string remedy = "a supply of its own for the lamps and all else that draws much";
  if (currents.gives_way) {
    text += ": the board restarts";
    const int most = lamps_at_once(board, currents);
    currents.lamps_at_once = std::max(most, 0);
    if (most > 0)
      remedy = "light at most " + std::to_string(most) + (most == 1 ? " lamp" : " lamps") +
               " at once, or " + remedy;
  }
  remedy += "; what is overloaded grows hot: let somebody qualified look at it";
  remarks.push_back({Severity::kWarning, "the supply", text, remedy});
}

}  // namespace

Currents check_currents(const PanelDescription& panel, std::vector<Remark>& remarks) {
  const BoardDescription& board = panel.board;
  Currents currents;
  currents.supply_ua = board.base_current_ua;
  for (const OutputDescription& output : panel.outputs) {
    const std::vector<LampRow> lamps = lamp_rows(board, output);
    for (const LampRow& row : lamps) {
      check_lamp(board, row, remarks);
      currents.chip_ua += row.current_ua;
      currents.supply_ua += row.current_ua;
      currents.lamps.push_back(row);
    }
    if (!lamps.empty()) continue;
    const DrawRow row = draw_row(output);
    check_buzzer(board, row, remarks);
    if (!row.pin.empty()) currents.chip_ua += row.current_ua;
    currents.supply_ua += row.current_ua;
    currents.others.push_back(row);
  }
  currents.groups = group_rows(board, currents, remarks);
  currents.chip_limit_ua = board.chip_limit_ua;
  currents.supply_limit_ua = board.supply_limit_ua;
  check_chip(currents, remarks);
  check_supply(board, currents, remarks);
  return currents;
}

}  // namespace understudy
