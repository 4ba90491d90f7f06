// Which part is on which pin where the file does not say.
#pragma once

#include "sim/model/panel_description.h"

namespace understudy {

// Gives every part without a pin the first free one of its kind: analogue pins to pots; pins that
// can dim to lamps, then any; pins that cannot dim to buttons and switches, then any. Pins of the
// serial port are left alone. A part for which none is left keeps an empty pin.
void give_out_pins(PanelDescription& panel);

// True where `pin` is one of `pins`.
bool has_pin(const std::vector<std::string>& pins, const std::string& pin);

}  // namespace understudy
