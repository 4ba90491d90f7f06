// What somebody who runs a game should be told while it plays: a wrong speed, lines that the panel
// does not know, bytes without an end of line, a game that does not read, a board
// that it keeps from starting, a program that has stopped. One sentence each, once for each time
// that the game opened the port. Thresholds are ours; nothing here is a verdict.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "sim/session/session.h"

namespace understudy {

// A regular value. Thread: one.
class Remarks {
 public:
  // The sentences that became due for a seat since the last call. Call it after each step.
  std::vector<std::string> take(const Session& session, std::size_t seat);

 private:
  struct Told {
    std::int64_t openings = 0;  // which time the port was open
    std::int64_t unknown_before = 0;
    std::int64_t baud = 0;      // of the last remark on it
    bool odd_line = false;
    bool no_end = false;
    bool not_reading = false;
    bool in_loader = false;
    bool stopped = false;
  };
  std::vector<Told> told_;
};

}  // namespace understudy
