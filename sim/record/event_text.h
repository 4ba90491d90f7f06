// Writes header and events as the lines of docs/recording.md, always in the same form: keys in one
// order, no spaces, integers alone. That form is what the reader's fast path knows.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "sim/record/event.h"
#include "sim/record/line_text.h"

namespace understudy {

// The header as one line with its line feed. REQUIRES: all texts are valid UTF-8
std::string header_line(const RecordingHeader& header);

// Thread: one at a time. Allocates only while its longest line still grows.
class EventText {
 public:
  explicit EventText(const RecordingHeader& header);

  // The event as one line with its line feed; lives until the next call.
  // REQUIRES: event.seat is a seat of the header or kWholeSession; names are valid UTF-8
  std::string_view line(const RecordedEvent& event);

 private:
  std::vector<std::string> seats_;  // `,"seat":"NAME","from":"` of each
  LineText text_;
};

// The written words; part of the format for ever. Empty beyond the last one.
std::string_view name_of(Curve curve);
std::string_view name_of(SeatSource source);

// The curve, source or kind of note that is written `text`; false: none is.
template <class Named>
bool find_named(std::string_view text, Named& into) {
  for (int i = 0; !name_of(static_cast<Named>(i)).empty(); ++i) {
    if (name_of(static_cast<Named>(i)) != text) continue;
    into = static_cast<Named>(i);
    return true;
  }
  return false;
}

}  // namespace understudy
