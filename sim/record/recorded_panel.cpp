// Parses both texts and compares what they say.
#include "sim/record/recorded_panel.h"

#include "sim/base/text.h"
#include "sim/panel/panel_file.h"
#include "sim/record/ordered_events.h"

namespace understudy {

Result<std::shared_ptr<const Panel>> recorded_panel(const RecordedPanel& recorded) {
  if (recorded.panel.empty() && recorded.resolved.empty()) return bare_panel(recorded.name);
  Result<std::shared_ptr<const Panel>> resolved =
      parse_panel(recorded.resolved, recorded.name + " (resolved)");
  if (!resolved.ok() || recorded.panel.empty()) return resolved;
  Result<std::shared_ptr<const Panel>> panel = parse_panel(recorded.panel, recorded.name);
  if (!panel.ok()) return panel;
  if (resolved_toml(panel.value()->description) != resolved_toml(resolved.value()->description))
    return Error{ErrorCode::kUnusable,
                 "\"panel\" and \"resolved\" describe two different panels; one of them was "
                 "changed"};
  auto whole = std::make_shared<Panel>(*resolved.value());
  whole->text = recorded.panel;
  return std::shared_ptr<const Panel>(std::move(whole));
}

Result<std::vector<SeatOptions>> recorded_seats(const RecordingHeader& header) {
  std::vector<SeatOptions> seats;
  for (const RecordedSeat& seat : header.seats) {
    const auto panel =
        recorded_panel({.panel = seat.panel, .resolved = seat.resolved, .name = seat.name});
    if (!panel.ok())
      return wrong_line(1, "seat " + printable(seat.name) + ": " + panel.error().text);
    seats.push_back({.name = seat.name,
                     .panel = panel.value(),
                     .whole_lines = seat.whole_lines,
                     .play = std::nullopt,
                     .observed = false,
                     .source = seat.source});
  }
  return seats;
}

}  // namespace understudy
