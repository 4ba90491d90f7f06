// What a board's program makes of controls with several pins: which place of a selector, how far an
// encoder was turned. As such programs are written: the pins are read one after the other, once a
// loop, and what happened in between is lost.
// Source: the quadrature table of two contacts (Bourns PEC11R data sheet): of 16 transitions four
// count up, four down, four are no change, and in four both pins changed, so that no one can tell.
#pragma once

#include <cstdint>

#include "sim/model/panel_description.h"

namespace understudy {

inline constexpr int kCannotTell = 2;

// Pins as two bits, A the higher. +1, -1, 0, or kCannotTell.
int quadrature_step(unsigned before, unsigned now);

// The first of `places` whose bit is set in `closed`; with none set, `last` or 0.
int place_read(std::uint64_t closed, int places, int last, bool keeps_in_gap);

// The wire number of a place: evenly from sends.low to sends.high.
std::int64_t wire_number_of_place(int place, int places, const Sends& sends);

// A count that wraps around from the higher end of its range to the lower one; 0 stays 0 where the
// range has it. With the ends turned round it counts the other way.
std::int64_t wire_number_of_count(std::int64_t count, const Sends& sends);

// A step, held to its range. Where the count counts the other way (`count_sends` turned round), so
// does the step.
std::int64_t wire_number_of_step(std::int64_t step, const Sends& sends, const Sends& count_sends);

// What a program remembers of one such control. A regular value.
struct Decoded {
  std::int32_t quarters = 0;   // counted since the start
  std::int32_t first = 0;      // of a counter that runs without the program: where it began
  std::int32_t step_from = 0;  // the count at which `step` was last sent
  std::int32_t place = 0;
  std::uint8_t pins = 0;  // A and B as last read
  bool seen = false;      // read at all since the start

  // Takes both pins of an encoder that is looked at once a loop.
  void take_pins(unsigned now);
  // Takes the count of an encoder whose every edge interrupts.
  void take_count(std::int64_t counted);
  // What it counts: detents, rounded to the nearest, or quarters.
  [[nodiscard]] std::int64_t count(const EncoderPart& encoder) const;

  template <class Digest>
  void add_to(Digest& digest) const {
    digest.add(std::int64_t{quarters});
    digest.add(std::int64_t{first});
    digest.add(std::int64_t{step_from});
    digest.add(std::int64_t{place});
    digest.add(static_cast<std::int64_t>(pins));
    digest.add(seen);
  }
};

}  // namespace understudy
