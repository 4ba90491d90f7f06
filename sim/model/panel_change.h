// What it means that a panel is replaced by another one while a session runs: what differs, and
// where a hand's action on the old one goes on the new one. Doing it is the device's work.
//
//   looks (places, sizes, keys, gamepad, colours, answers,
//          the panel's name)                                 change at once, no byte differs
//   controls, outputs, lines, framing, board, manners        the board restarts, as flashing would
//   wire, host                                               wait for the next opening of the port
#pragma once

#include <optional>

#include "sim/model/inputs.h"
#include "sim/model/panel_description.h"

namespace understudy {

// What differs between two panels beside their looks.
struct PanelChange {
  bool board = false;  // controls, outputs, lines, framing, board, manners
  bool wire = false;
  bool host = false;
  friend bool operator==(const PanelChange&, const PanelChange&) = default;
};
PanelChange change_between(const PanelDescription& before, const PanelDescription& after);

// The control (output) of the same name and kind; nothing: there is none.
const ControlDescription* same_control(const ControlDescription& one,
                                       const PanelDescription& panel);
const OutputDescription* same_output(const OutputDescription& one, const PanelDescription& panel);

// An action meant for `before`, as `after` has it: on the control of the same name and kind, on its
// part of the same name. Nothing: that is gone, and so is the action. For queues of hands when a
// reload is taken. REQUIRES: the action's control and part are those of `before`
std::optional<HandAction> hand_on(const PanelDescription& after, const HandAction& hand,
                                  const PanelDescription& before);

}  // namespace understudy
