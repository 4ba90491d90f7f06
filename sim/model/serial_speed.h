// How often a board's UART samples a bit, which both the wire and the check of a panel need.
#pragma once

#include "sim/model/panel_description.h"

namespace understudy {

inline constexpr std::int64_t kDividerMax = 4'095;  // of the baud register

// 8 times at double speed; 16 without, and where the register cannot hold what double speed would
// need (below 489 baud at 16 MHz; common practice of such programs, no source).
constexpr int board_samples_per_bit(const BoardDescription& board, const WireDescription& wire) {
  const std::int64_t slowest = board.cpu_clock_mhz / 1'000 / (8 * (kDividerMax + 1));
  return board.double_speed && wire.baud > slowest ? 8 : 16;
}

}  // namespace understudy
