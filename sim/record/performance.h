// What hands did in a recording and what the outputs then showed: what two recordings of the same
// hands are compared by.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "sim/base/result.h"
#include "sim/record/reader.h"

namespace understudy {

// A movement, or those that begin at one instant at one seat.
struct Deed {
  Instant at;
  std::uint16_t seat = 0;
  std::string words;                  // "bell pressed", "power to 40 % in 500 ms"
  std::vector<std::string> controls;  // that it moves
};

struct ShownChange {
  Instant at;
  std::uint16_t output = 0;  // its place in Performance::outputs
  std::int64_t number = 0;   // the wire number
};

struct ShownOutput {
  std::uint16_t seat = 0;
  std::string name;  // "glow.r"
  friend bool operator==(const ShownOutput&, const ShownOutput&) = default;
};

struct Performance {
  std::vector<std::string> seats;                  // names
  std::vector<std::vector<std::string>> controls;  // of each: "bell (button)"
  std::vector<Deed> deeds;                         // in order of time
  std::vector<ShownOutput> outputs;                // of the panels in the header, seat by seat
  std::vector<ShownChange> changes;                // in order of time, each to another number
  std::optional<Instant> opened;                   // the game's first opening of a port
  Instant end;
  bool complete = false;  // the file has its ending
};

// Where to read them from. A recording of a real box has neither hands nor outputs of its own; what
// the lines say of them stands in.
struct PerformanceFrom {
  bool lines_for_hands = false;    // what contacts do in the lines to the game, else what hands did
  bool lines_for_outputs = false;  // what the game's lines say, else what the board set
};

// Reads `reader` to its end. Memory: about 100 bytes a movement, 24 a change. Errors (kUnusable)
// name the line.
Result<Performance> read_performance(RecordingReader& reader, const PerformanceFrom& from);

}  // namespace understudy
