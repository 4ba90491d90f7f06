// How a program turns what a pin reads into the wire number it prints, and a number that it read
// into what it writes to a pin. Whole-number arithmetic as such programs have it.
#pragma once

#include <cstdint>

#include "sim/model/panel_description.h"

namespace understudy {

// raw in [0, raw_top] -> [sends.low, sends.high], truncated toward low, so that only the full
// reading gives `high` (common practice for scaling a reading). Words share the range evenly.
std::int64_t wire_number_of_reading(std::int64_t raw, std::int64_t raw_top, const Sends& sends);

// The two states of a contact: `low` when up (open), `high` when down (closed).
constexpr std::int64_t wire_number_of_state(bool down, const Sends& sends) {
  return down ? sends.high : sends.low;
}

// What the board shows when its program writes this number: a range of 0..255 is an 8-bit register,
// which keeps the low eight bits of whatever is written (300 shows as 44, -1 as 255); any other
// range is held to its ends.
std::int64_t number_shown(std::int64_t written, const Sends& sends);

}  // namespace understudy
