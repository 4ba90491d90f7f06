// One look through a whole recording before it is played: is every line right, how long is it, what
// is there of each seat.
#pragma once

#include <cstdint>
#include <vector>

#include "sim/base/result.h"
#include "sim/record/reader.h"

namespace understudy {

struct SurveyedSeat {
  std::int64_t hands = 0;      // movements
  std::int64_t reloads = 0;    // of its panel file
  std::int64_t to_game = 0;    // chunks
  std::int64_t from_game = 0;  // pieces that the game wrote
  std::int64_t outputs = 0;    // changes
};

struct RecordingSurvey {
  std::vector<SurveyedSeat> seats;  // as in the header
  Instant end;                      // time of the last event
  std::int64_t marks = 0;
  bool complete = false;         // the file has its ending
  bool torn = false;             // its last line is cut
  std::int64_t passed_over = 0;  // events of a newer format

  [[nodiscard]] std::int64_t hands() const {
    std::int64_t sum = 0;
    for (const SurveyedSeat& seat : seats) sum += seat.hands;
    return sum;
  }
};

// Reads `reader` to its end, in bounded memory. Errors (kUnusable) name the line: it is wrong, its
// time goes back, it moves what its panel does not have, or it holds no panel.
Result<RecordingSurvey> survey(RecordingReader& reader);

}  // namespace understudy
