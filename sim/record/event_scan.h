// Reads a line that stands in the canonical form of event_text.h, fast and without allocation. It
// judges nothing: a line in any other form, right or wrong, is left to event_json.h.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "sim/record/event.h"

namespace understudy {

// The seats of a header by their written names.
class SeatNames {
 public:
  explicit SeatNames(const RecordingHeader& header);
  // `quoted` is the name as it stands in a canonical line, with its closing quote.
  [[nodiscard]] std::optional<std::uint16_t> find_quoted(std::string_view quoted) const;
  // The seat that find_quoted found last (at first, the first one), written so.
  // A header without seats has neither: the text is then one that no line holds.
  [[nodiscard]] std::string_view last_quoted() const {
    return quoted_.empty() ? std::string_view("\n") : std::string_view(quoted_[last_].first);
  }
  // REQUIRES: the header has seats
  [[nodiscard]] std::uint16_t last() const { return quoted_[last_].second; }
  [[nodiscard]] std::optional<std::uint16_t> find(std::string_view name) const;

 private:
  std::vector<std::pair<std::string, std::uint16_t>> quoted_;  // sorted
  std::vector<std::pair<std::string, std::uint16_t>> plain_;   // sorted
  mutable std::size_t last_ = 0;                               // most events are of the seat before
};

// Where texts of an event are unquoted to; the event's views point here or into the line.
struct EventRoom {
  std::string text;
  std::string name;
  std::string part;
  std::string resolved;  // of a panel file; its text stands in `text`
};

// True: `event` is the line's event. False: not canonical; event and room hold anything.
// `line` comes without its line feed.
bool scan_event(std::string_view line, const SeatNames& seats, EventRoom& room,
                RecordedEvent& event);

}  // namespace understudy
