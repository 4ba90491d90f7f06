// Compares descriptions with their looks wiped off.
#include "sim/model/panel_change.h"

#include <algorithm>

#include "sim/base/check.h"
#include "sim/model/kinds.h"

namespace understudy {
namespace {

// Without what no byte depends on, and without what waits for the port.
PanelDescription bare(PanelDescription panel) {
  panel.name.clear();
  panel.width_um = panel.height_um = 0;
  panel.answers.clear();
  panel.wire = {};
  panel.host = {};
  for (ControlDescription& control : panel.controls) {
    control.place = {};
    control.keys = {};
    control.sensor.file.clear();  // its values count
  }
  for (OutputDescription& output : panel.outputs) {
    output.place = {};
    output.colour.clear();  // what a colour means to the current is a key of its own
  }
  return panel;
}

template <class Part>
const Part* same_in(const Part& one, const std::vector<Part>& parts) {
  const auto found = std::find_if(parts.begin(), parts.end(), [&](const Part& other) {
    return other.name == one.name && other.kind == one.kind;
  });
  return found == parts.end() ? nullptr : &*found;
}

}  // namespace

PanelChange change_between(const PanelDescription& before, const PanelDescription& after) {
  return {.board = bare(before) != bare(after),
          .wire = before.wire != after.wire,
          .host = before.host != after.host};
}

const ControlDescription* same_control(const ControlDescription& one,
                                       const PanelDescription& panel) {
  return same_in(one, panel.controls);
}

const OutputDescription* same_output(const OutputDescription& one, const PanelDescription& panel) {
  return same_in(one, panel.outputs);
}

std::optional<HandAction> hand_on(const PanelDescription& after, const HandAction& hand,
                                  const PanelDescription& before) {
  CHECK(hand.control < before.controls.size(), "a hand moved a control that is not there");
  const ControlDescription& control = before.controls[hand.control];
  const ControlDescription* const now = same_control(control, after);
  if (now == nullptr) return std::nullopt;
  const auto parts = hand_parts(control);
  CHECK(hand.part < parts.size(), "a hand moved a part that is not there");
  const auto parts_now = hand_parts(*now);
  for (std::size_t i = 0; i < parts_now.size(); ++i) {
    if (parts_now[i].name != parts[hand.part].name) continue;
    HandAction mapped = hand;
    mapped.control = static_cast<std::uint16_t>(now - after.controls.data());
    mapped.part = static_cast<std::uint8_t>(i);
    return mapped;
  }
  return std::nullopt;
}

}  // namespace understudy
