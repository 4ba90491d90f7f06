// A UART receiver that samples the bit stream: what the other end reads when the two ends differ
// in speed. Start bits found by their edge, every bit by the majority of its three middle samples,
// a low stop bit is a framing error, and the next start may begin right after the stop's samples.
// Source: ATmega328P data sheet, 8271H, sections 20.8.1 to 20.8.3.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>

#include "sim/base/ratio.h"
#include "sim/base/time.h"

namespace understudy {

struct ReceiverSettings {
  Ratio sender_baud;
  Ratio own_baud;
  int samples_per_bit = 16;
  int data_bits = 8;    // 8N1 and its kin: no parity is sampled here
  int stop_bits = 1;
};

struct ReceivedBytes {
  std::string bytes;             // what was read, framing errors included
  std::int64_t frame_errors = 0;
};

// What a receiver with its own clock reads of these bytes, sent without gaps after an idle line and
// followed by one.
ReceivedBytes received(std::string_view sent, const ReceiverSettings& settings);

// Two or more of three samples.
constexpr bool majority(bool a, bool b, bool c) { return (a && b) || (a && c) || (b && c); }

}  // namespace understudy
