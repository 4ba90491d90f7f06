// Two events that should have been one, said in words: where, what was recorded, what came now,
// which field of the line it is, and which stage of the box to look at first.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

#include "sim/model/panel.h"
#include "sim/record/event.h"

namespace understudy {

struct Difference {
  Instant at;
  std::string seat;       // empty: of the whole session
  std::int64_t line = 0;  // of the file; 0: nothing is recorded there
  std::string what;       // `chunk 361: recorded "512,300\n", now "512,301\n"`
  std::string field;      // of the line to the game, where it can be told
  std::string stage;      // host, wire, manners, board, state; a first guess where to look

  // "line 812: at 7.214500 s, seat tram: chunk 361: ...: field heater (look at the board first)"
  [[nodiscard]] std::string sentence() const;
};

// What was recorded and what came now; one of the two may be missing, not both.
struct Unequal {
  const RecordedEvent* recorded = nullptr;
  const RecordedEvent* now = nullptr;
  std::int64_t line = 0;
  std::int64_t chunk = 0;  // how many chunks this seat had, this one included
};

// REQUIRES: at least one of the two is given, and they differ
Difference difference_of(const Unequal& unequal, const RecordingHeader& header);

// Equal as far as the box decides it: lateness is the link's, and the digest of inputs is looked at
// apart.
bool same_outcome(const RecordedEvent& recorded, const RecordedEvent& now);

// A stream to the game around a difference, both ways; the first `same` bytes are equal.
struct TwoStreams {
  std::string_view recorded;
  std::string_view now;
};

// Tells by the panel's formats what differs first in the two streams: field and stage. Leaves
// `difference` as it is where the streams hold no whole lines there.
void explain_by_lines(const Panel& panel, const TwoStreams& streams, Difference& difference);

}  // namespace understudy
