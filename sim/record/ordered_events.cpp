// Passes on what the reader gives, and looks at the times.
#include "sim/record/ordered_events.h"

#include <fmt/format.h>

namespace understudy {

Result<bool> OrderedEvents::next(RecordedEvent& event) {
  switch (reader_.next(event)) {
    case RecordingReader::Got::kEnd:
      return false;
    case RecordingReader::Got::kBadLine:
      return Error{ErrorCode::kUnusable, reader_.problem()};
    case RecordingReader::Got::kEvent:
      break;
  }
  if (event.at < last_)
    return wrong_line(reader_.line_number(), "its time is before that of the line above");
  last_ = event.at;
  return true;
}

Error wrong_line(std::int64_t line, const std::string& text) {
  return {ErrorCode::kUnusable, fmt::format("line {}: {}", line, text)};
}

}  // namespace understudy
