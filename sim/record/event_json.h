// Reads header and events in any form that is JSON, and says in words what is wrong with a line.
// Slow and thorough; lines in the canonical form never come here (event_scan.h).
#pragma once

#include <string>
#include <string_view>

#include "sim/base/result.h"
#include "sim/record/event.h"
#include "sim/record/event_scan.h"

namespace understudy {

// Errors name what is wrong, not which file: the reader puts that before them.
// kUnusable: not a recording, or of another major format.
Result<RecordingHeader> read_header(std::string_view line);

struct JsonLine {
  enum class Kind {
    kEvent,        // `event` is set; its views point into `room`
    kUnknownKind,  // well-formed, but of a kind that this program doesn't know
    kBad,
  };
  Kind kind = Kind::kBad;
  std::string problem;  // for the other two: what is wrong, as a part of a sentence
};

JsonLine read_event(std::string_view line, const SeatNames& seats, EventRoom& room,
                    RecordedEvent& event);

}  // namespace understudy
