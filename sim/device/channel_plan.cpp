// Works out what every reading needs.
#include "sim/device/channel_plan.h"

#include <algorithm>

#include "sim/board/adc.h"
#include "sim/board/pins.h"

namespace understudy {
namespace {

std::int64_t residue_of(const ControlDescription& control, const BoardDescription& board) {
  const bool track = control.kind != ControlKind::kSensor;
  const std::int64_t source =
      std::max(control.pot.source_mohm, track ? control.pot.resistance_mohm / 4 : 0);
  const Duration window{1'500'000'000'000 / board.adc_clock_mhz};
  return settling_residue_in_2_24(source, board.adc_series_mohm, board.hold_capacitor_ff, window);
}

PinReadings pin_readings_of(const ContactPart& part, const BoardDescription& board) {
  PinReadings pin;
  for (const bool closed : {false, true}) {
    const std::int64_t microvolts =
        pin_microvolts(closed, part.contact_mohm, part.wired, board.pull_up_mohm, board.supply_uv);
    for (const std::size_t before : {0U, 1U})
      (closed ? pin.closed : pin.open)[before] =
          level_read(microvolts, board.supply_uv, before != 0);
  }
  return pin;
}

ReadWay way_of(const ControlDescription& control, const Channel& channel) {
  if (control.cell.given()) return ReadWay::kCell;
  switch (control.kind) {
    case ControlKind::kSensor:
      return ReadWay::kSensor;
    case ControlKind::kSelector:
      return ReadWay::kClick;
    case ControlKind::kEncoder:
      return control.encoder.interrupts ? ReadWay::kCount : ReadWay::kClick;
    case ControlKind::kPot:
    case ControlKind::kButton:
    case ControlKind::kSwitch:
    case ControlKind::kStick:
      break;
  }
  return channel.analogue ? ReadWay::kTrack : ReadWay::kContact;
}

void add_parts(ReadingPlans& plans, const ControlDescription& control,
               const BoardDescription& board) {
  plans.first_part.push_back(static_cast<std::uint16_t>(plans.parts.size()));
  const auto parts = hand_parts(control);
  for (std::size_t i = 0; i < parts.size(); ++i) {
    MovedPartPlan plan{.way = parts[i].way,
                       .rest_ppm = rest_ppm(control, i),
                       .contact = control.contact,
                       .clicks = {}};
    if (control.kind == ControlKind::kEncoder) plan.clicks = Clicks(control.encoder);
    if (control.kind == ControlKind::kSelector) plan.clicks = Clicks(control.selector);
    if (control.cell.given())
      plans.cells.push_back({.part = static_cast<std::uint16_t>(plans.parts.size()),
                             .cell = control.cell,
                             .conducts = !pin_readings_of(control.contact, board).closed[1]});
    plans.parts.push_back(std::move(plan));
  }
  if (control.kind == ControlKind::kSensor) plans.sensors.emplace_back(control.sensor);
}

}  // namespace

ReadingPlans plan_readings(const PanelDescription& panel) {
  ReadingPlans plans;
  plans.diodes = panel.matrix.diodes;
  for (const ControlDescription& control : panel.controls) {
    plans.first_sensor.push_back(static_cast<std::uint16_t>(plans.sensors.size()));
    add_parts(plans, control, panel.board);
  }
  for (const Channel& channel : channels_of(panel)) {
    const ControlDescription& control = panel.controls[channel.control];
    ChannelPlan plan{.way = way_of(control, channel),
                     .pin = channel.index,
                     .part = plans.first_part[channel.control],
                     .sensor = plans.first_sensor[channel.control],
                     .cell = control.cell,
                     .noise_uv = control.pot.noise_uv,
                     .residue_in_2_24 = channel.analogue ? residue_of(control, panel.board) : 0,
                     .track = {},
                     .readings = pin_readings_of(control.contact, panel.board)};
    // Each pin of a stick is a part of its own.
    if (control.kind == ControlKind::kStick)
      plan.part = static_cast<std::uint16_t>(plan.part + channel.index);
    if (plan.way == ReadWay::kTrack) plan.track = Track(control.pot);
    plans.channels.push_back(std::move(plan));
  }
  return plans;
}

}  // namespace understudy
