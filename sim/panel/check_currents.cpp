// Lamp currents against the limits of pin, group of pins, chip and supply.
#include "sim/base/units.h"
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

LampRow lamp_row(const BoardDescription& board, const OutputDescription& output) {
  LampRow row;
  row.name = output.name;
  row.pin = output.pin;
  row.colour = output.colour;
  row.sinks = output.active_low;
  row.forward_uv = output.forward_uv;
  row.resistor_mohm = output.resistor_mohm;
  const std::int64_t across_uv = board.supply_uv - output.forward_uv;
  if (across_uv <= 0) return row;
  row.current_ua = across_uv * 1'000 / output.resistor_mohm;
  const std::int64_t least = resistance_for(across_uv, board.pin_advised_ua);
  row.advised_e12_mohm = next_in_series(least, e12_values());
  row.advised_e24_mohm = next_in_series(least, e24_values());
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

std::string span_of(const std::vector<std::string>& pins) {
  return (pins.size() == 1 ? "pin " : "pins ") + pin_runs(pins);
}

std::vector<GroupRow> group_rows(const BoardDescription& board, const std::vector<LampRow>& lamps,
                                 std::vector<Remark>& remarks) {
  std::vector<GroupRow> rows;
  for (const PortGroup& group : board.groups) {
    GroupRow row{group.pins, group.sinks, 0, group.limit_ua};
    for (const LampRow& lamp : lamps)
      if (lamp.sinks == group.sinks && has_pin(group.pins, lamp.pin))
        row.used_ua += lamp.current_ua;
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

void check_total(const char* about, std::int64_t used_ua, std::int64_t limit_ua, const char* remedy,
                 std::vector<Remark>& remarks) {
  if (used_ua <= limit_ua) return;
  remarks.push_back({Severity::kWarning, about,
                     "with all lamps lit it carries " + milliamperes(used_ua) + ", above " +
                         milliamperes(limit_ua),
                     remedy});
}

}  // namespace

Currents check_currents(const PanelDescription& panel, std::vector<Remark>& remarks) {
  const BoardDescription& board = panel.board;
  Currents currents;
  for (const OutputDescription& output : panel.outputs) {
    currents.lamps.push_back(lamp_row(board, output));
    currents.chip_ua += currents.lamps.back().current_ua;
    check_lamp(board, currents.lamps.back(), remarks);
  }
  currents.groups = group_rows(board, currents.lamps, remarks);
  currents.chip_limit_ua = board.chip_limit_ua;
  currents.supply_ua = currents.chip_ua + board.base_current_ua;
  currents.supply_limit_ua = board.supply_limit_ua;
  check_total("the chip", currents.chip_ua, currents.chip_limit_ua,
              "larger resistors, or transistors that take the lamps off the chip", remarks);
  check_total("the supply", currents.supply_ua, currents.supply_limit_ua,
              "a supply of its own for the lamps", remarks);
  return currents;
}

}  // namespace understudy
