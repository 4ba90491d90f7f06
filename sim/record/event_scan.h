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
  // `quoted` is the name as it stands between quotes in a canonical line.
  [[nodiscard]] std::optional<std::uint16_t> find_quoted(std::string_view quoted) const;
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
};

// True: `event` is the line's event. False: not canonical; event and room hold anything.
// `line` comes without its line feed.
bool scan_event(std::string_view line, const SeatNames& seats, EventRoom& room,
                RecordedEvent& event);

}  // namespace understudy
