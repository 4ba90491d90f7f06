// Which part is on which pin where the file does not say.
#pragma once

#include "sim/model/panel_description.h"

namespace understudy {

// Many boards have a lamp of their own on it, against which a pull-up may lose; common practice, no
// source.
inline constexpr const char* kPinOfBoardLamp = "D13";

// Gives every part as many pins as its kind needs, the first free ones: analogue pins to pots,
// sensors and the ways of sticks; pins that can dim to outputs (but the wires of digits), then any;
// pins that cannot dim to contacts, then any. Pins of the serial port and of the matrix are left
// alone, and kPinOfBoardLamp is the last of each kind. Where none is left the pin stays empty.
void give_out_pins(PanelDescription& panel);

// "A0 to A5 and D3": pins in a row by their first and last.
std::string pin_runs(const std::vector<std::string>& pins);

// True where `pin` is one of `pins`.
bool has_pin(const std::vector<std::string>& pins, const std::string& pin);

}  // namespace understudy
