// A recording's events for those who need all of them right: a wrong line or a time that goes back
// is an error that names the line.
#pragma once

#include "sim/base/result.h"
#include "sim/record/reader.h"

namespace understudy {

// Thread: one at a time. `reader` must outlive it.
class OrderedEvents {
 public:
  explicit OrderedEvents(RecordingReader& reader) : reader_(reader) {}

  // True: `event` is set, and its views live until the next call on the reader. False: the end.
  // Errors (kUnusable): "line 17: ...".
  Result<bool> next(RecordedEvent& event);

 private:
  RecordingReader& reader_;
  Instant last_;
};

// "line 17: ..." as an error.
Error wrong_line(std::int64_t line, const std::string& text);

}  // namespace understudy
