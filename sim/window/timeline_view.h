// What the window sees of a recording that is looked at: what never changes of it, and where it is
// just now.
#pragma once

#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "sim/base/time.h"

namespace understudy {

struct TimelineMark {
  Instant at;
  std::string text;
};

// What happened in one part of the whole, of equal lengths.
struct TimelineBin {
  std::uint32_t hands = 0;
  std::uint32_t changes = 0;  // of outputs
};

struct Timeline {
  std::string file;
  Instant length;  // above 0
  std::vector<TimelineMark> marks;
  std::vector<TimelineBin> bins;
  std::string remark;  // what a person should know of the file; empty: nothing
};

struct TimelineSpan {
  Instant from;
  Instant to;
  friend bool operator==(const TimelineSpan&, const TimelineSpan&) = default;
};

struct TimelineView {
  std::shared_ptr<const Timeline> whole;  // not null
  bool playing = false;
  double speed = 1.0;
  std::optional<TimelineSpan> repeated;
  std::vector<std::string> taken_over;  // controls that the person moves
  std::uint64_t jumps = 0;              // counts up when time did not go on from where it was
};

}  // namespace understudy
