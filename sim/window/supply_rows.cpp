// Sums by pin. What an LED carries while it is lit is pwm.h's; what an output draws is the board's.
#include "sim/window/supply_rows.h"

#include <fmt/format.h>

#include "sim/board/pwm.h"
#include "sim/model/currents.h"
#include "sim/model/kinds.h"
#include "sim/panel/pins.h"

namespace understudy {
namespace {

// One pin of the chip that carries something.
struct PinLoad {
  std::string pin;
  bool sinks = false;
  std::int64_t now_ua = 0;  // on average
  std::int64_t lit_ua = 0;  // while the pin is switched on
};

bool is_light(const OutputDescription& output) {
  return output.kind == OutputKind::kLamp || output.kind == OutputKind::kRgb;
}

std::vector<PinLoad> pins_of(const Device& device, std::size_t index) {
  const Panel& panel = device.panel();
  const BoardDescription& board = panel.description.board;
  const OutputDescription& output = panel.description.outputs[index];
  std::vector<PinLoad> loads;
  if (output.kind == OutputKind::kBuzzer && !output.buzzer.transistor && !output.pins.empty()) {
    const std::int64_t ua = device.powered().output_ua(index);
    return {{output.pins.front(), false, ua, ua}};
  }
  if (!is_light(output)) return loads;
  for (std::size_t field = 0; field < panel.to_panel_sources.size(); ++field) {
    const FieldSource& source = panel.to_panel_sources[field];
    if (source.part_of != index || source.part >= output.pins.size()) continue;
    const std::int64_t full = full_ua(output, source.part, board);
    const double duty = lamp_duty(device.output_number(field), output, board);
    loads.push_back({output.pins[source.part], output.active_low,
                     static_cast<std::int64_t>(static_cast<double>(full) * duty + 0.5),
                     duty > 0 ? full : 0});
  }
  return loads;
}

SupplyRow output_row(const Device& device, std::size_t index, const std::vector<PinLoad>& pins) {
  const BoardDescription& board = device.panel().description.board;
  SupplyRow row = {.name = device.panel().description.outputs[index].name,
                   .now_ua = device.powered().output_ua(index)};
  const auto count = static_cast<std::int64_t>(pins.size());
  row.limit_ua = board.pin_limit_ua * count;
  row.advised_ua = board.pin_advised_ua * count;
  for (const PinLoad& pin : pins) {
    const bool never = board.pin_limit_ua > 0 && pin.lit_ua > board.pin_limit_ua;
    const bool rather_not = board.pin_advised_ua > 0 && pin.lit_ua > board.pin_advised_ua;
    if (!never && !rather_not) continue;
    row.caution = fmt::format("{} carries {} while it is on; a pin {} carry more than {}", pin.pin,
                              milliamperes_text(pin.lit_ua), never ? "may never" : "should not",
                              milliamperes_text(never ? board.pin_limit_ua : board.pin_advised_ua));
  }
  return row;
}

SupplyRow sum_row(std::string name, std::int64_t now_ua, std::int64_t limit_ua) {
  SupplyRow row = {.name = std::move(name), .now_ua = now_ua, .limit_ua = limit_ua};
  if (limit_ua > 0 && now_ua > limit_ua)
    row.caution = fmt::format("{} is above the {} of {}", milliamperes_text(now_ua),
                              milliamperes_text(limit_ua), row.name);
  return row;
}

void add_sums(const Device& device, const std::vector<PinLoad>& pins, SupplyRows& rows) {
  const BoardDescription& board = device.panel().description.board;
  std::int64_t chip_ua = 0;
  for (const PinLoad& pin : pins) chip_ua += pin.now_ua;
  for (const PortGroup& group : board.groups) {
    std::int64_t used_ua = 0;
    bool carries = false;
    for (const PinLoad& pin : pins) {
      if (pin.sinks != group.sinks || !has_pin(group.pins, pin.pin)) continue;
      used_ua += pin.now_ua;
      carries = true;
    }
    if (carries)
      rows.sums.push_back(sum_row("pins " + pin_runs(group.pins), used_ua, group.limit_ua));
  }
  rows.sums.push_back(sum_row("the chip", chip_ua, board.chip_limit_ua));
  rows.sums.push_back(sum_row("the port", device.powered().load_ua(), board.supply_limit_ua));
}

}  // namespace

SupplyRows supply_rows(const Device& device) {
  const PanelDescription& panel = device.panel().description;
  SupplyRows rows = {.voltage_uv = device.powered().voltage_uv(),
                     .supply_uv = panel.board.supply_uv,
                     .brown_out_uv = panel.board.brown_out_uv};
  std::vector<PinLoad> all;
  for (std::size_t i = 0; i < panel.outputs.size(); ++i) {
    const std::vector<PinLoad> pins = pins_of(device, i);
    rows.outputs.push_back(output_row(device, i, pins));
    all.insert(all.end(), pins.begin(), pins.end());
  }
  add_sums(device, all, rows);
  if (gives_way(panel.board, device.powered().load_ua()))
    rows.caution = "the supply gives way, and the board restarts";
  return rows;
}

std::string milliamperes_text(std::int64_t ua) {
  if (ua == 0) return "0 mA";
  return ua >= 100'000 ? fmt::format("{:.0f} mA", static_cast<double>(ua) / 1e3)
                       : fmt::format("{:.1f} mA", static_cast<double>(ua) / 1e3);
}

}  // namespace understudy
