// The way back from a line to the hands: how the controls of a virtual box have to stand so that
// its program reads given numbers.
#pragma once

#include <cstdint>
#include <span>
#include <vector>

#include "sim/device/device.h"
#include "sim/model/inputs.h"

namespace understudy {

// Moves, at once, of all controls whose numbers are others than `wanted` (by field of the lines to
// the game): found by trying positions on copies of the device, so travel, taper, wiring and words
// need not be known here. A number that no position gives is left alone, and so is what is turned
// round and round, which has no position. Where the program is only starting, it is waited for, in
// the copy. Takes milliseconds.
std::vector<HandAction> hands_that_show(const Device& device, std::span<const std::int64_t> wanted);

// How long such moves take until the program has read them.
Duration time_to_show(const Panel& panel);

}  // namespace understudy
