// What a board's program asks of its board: readings, bytes, printing, outputs. The program knows
// nothing behind it; the device implements it.
#pragma once

#include <cstddef>
#include <cstdint>
#include <string_view>

#include "sim/base/time.h"

namespace understudy {

// When a reading that starts now takes its sample, and when the program goes on.
struct ReadingTimes {
  Instant samples_at;
  Instant done_at;
};

// How printing went: bytes taken into the print ring, and when the program goes on (with the rest,
// if any). kNever: the port holds the board until the computer takes bytes.
struct Printed {
  std::size_t accepted = 0;
  Instant resumes_at;
};

// Borrowed for the time of a call; never kept.
class BoardAccess {
 public:
  // Channels are numbered as in channels_of() (sim/model/kinds.h).
  virtual ReadingTimes reading_times(std::size_t channel, Instant start) = 0;
  // The raw reading of a channel at the sample's time: an ADC code, 0 / 1 of a pin, or a count.
  virtual std::int64_t sample(std::size_t channel, Instant at) = 0;

  // Whether a byte from the game waits in the receive ring at t.
  virtual bool byte_waits(Instant t) = 0;
  // REQUIRES: byte_waits(t)
  virtual char take_byte() = 0;
  // When the next byte reaches the empty ring; kNever when none is on its way.
  virtual Instant next_byte_at() = 0;

  virtual Printed print(Instant t, std::string_view bytes) = 0;
  // `field` is one of the lines to the panel: an output, or a part of one.
  virtual void set_output(std::size_t field, std::int64_t number, Instant t) = 0;
  // The program waited `waited` in vain for the end of a line.
  virtual void read_timed_out(Instant t, Duration waited) = 0;
  // The program has used up its memory after so many lines and stands still.
  virtual void program_stopped(Instant t, std::uint64_t lines) = 0;

 protected:
  ~BoardAccess() = default;
};

}  // namespace understudy
