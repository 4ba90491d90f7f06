// The arithmetic of an asynchronous serial line: what the divider of a chip makes of a baud, how
// long a byte takes, and how far two ends may differ.
// Source: ATmega328P data sheet, 8271H, section 20 (baud formulas table 20-1, receiver range
// 20.8.3, error 20.10). The formulas are the sheet's; the numbers are worked out here.
#pragma once

#include <cstdint>

#include "sim/base/ratio.h"
#include "sim/base/time.h"
#include "sim/model/panel_description.h"
#include "sim/model/serial_speed.h"

namespace understudy {

// What the divider gives: `actual` in baud, as an exact ratio.
struct BaudDivider {
  std::int64_t ubrr = 0;  // the register: 0..kDividerMax
  Ratio actual_baud;
};
// The nearest setting for a wanted baud. samples: 16, or 8 at double speed.
BaudDivider nearest_divider(std::int64_t cpu_hz, std::int64_t wanted_baud, int samples_per_bit);

// (actual / wanted - 1) in parts per million, rounded to the nearest.
std::int64_t baud_error_ppm(const BaudDivider& divider, std::int64_t wanted_baud);

// How much slower or faster a sender may be than the receiver: ratios of incoming to own rate.
struct ReceiverRange {
  Ratio slowest;
  Ratio fastest;
};
// data_and_parity_bits 5..10; samples_per_bit 16 or 8.
ReceiverRange receiver_range(int data_and_parity_bits, int samples_per_bit);

// True where a sender at `incoming` can be read by a receiver at `own` (both baud).
bool readable(Ratio incoming_baud, Ratio own_baud, const ReceiverRange& range);

// No port is faster; what a game asks for beyond is held to it, so that every product stays exact.
inline constexpr std::int64_t kBaudMax = 1'000'000'000;

// Start, data, parity and stop bits of one byte.
int bits_per_byte(const WireDescription& wire);

// How long one byte takes, in nanoseconds, as a ratio small enough for 64-bit products with any
// count below 2^20.
Ratio byte_time(Ratio baud, int bits);

// The baud at which the board truly sends: divider and clock error together.
Ratio board_baud(const BoardDescription& board, const WireDescription& wire);

// An exact ratio with `ppm` added: r * (1 + ppm / 10^6).
Ratio with_error(Ratio r, std::int64_t ppm);

}  // namespace understudy
