// Looks at what the observer counted and finds words for it.
#include "sim/app/remarks.h"

#include <fmt/format.h>

#include "sim/base/text.h"
#include "sim/base/units.h"
#include "sim/panel/panel_file.h"

namespace understudy {
namespace {

constexpr Duration kUnreadLongest = seconds(1);
constexpr Duration kUnfinishedLongest = seconds(1);

std::string baud_remark(const Device& device) {
  return fmt::format("the game set {} baud, but this panel speaks at {}: each reads nonsense",
                     device.game_baud(), device.panel().description.wire.baud);
}

// What a board that reads carelessly does with a line that is none of the panel's; nothing where it
// has nothing to move.
std::string_view careless_end(const Panel& panel) {
  if (panel.to_panel.size() == 0) return "";
  const Parsing parse = panel.description.manners.parse;
  const bool strict = parse == Parsing::kWholeLine || parse == Parsing::kOneLetter;
  return strict ? "; the board takes nothing from it"
                : "; the board takes whatever numbers it finds there";
}

std::string odd_line_remark(const Observer& observer, const Panel& panel) {
  const Traffic& traffic = observer.traffic_to_panel();
  return fmt::format("a line of the game is none of this panel's: \"{}\": {}{}",
                     printable(traffic.last_unknown()),
                     traffic.explain_last_unknown(panel.to_panel), careless_end(panel));
}

std::string no_end_remark(const Traffic& traffic, const Panel& panel) {
  return fmt::format(
      "the game wrote {} bytes without an end of line, beginning \"{}\"; lines to "
      "this panel end with \"{}\"",
      traffic.unfinished_bytes(), printable(traffic.unfinished_head()),
      printable(panel.description.to_panel.ends));
}

std::string not_reading_remark(const Observer& observer, Instant now) {
  return fmt::format("the game has not read for {:.1f} s: {} bytes wait for it",
                     static_cast<double>(observer.input_age(now).ns) / 1e9,
                     observer.unread_bytes());
}

std::string in_loader_remark(const Device& device) {
  return fmt::format(
      "the game sent {} bytes while the board was starting; its loader took them and "
      "waits {} after the last one: send nothing before the board's first line",
      device.bytes_in_loader(), write_duration(device.panel().description.board.boot_disturbed));
}

std::string stopped_remark(const Device& device) {
  return fmt::format(
      "the board's program has used up its heap of {} bytes after {} lines and "
      "stands still; the port stays open, and only a restart helps",
      device.panel().description.manners.heap.free_bytes, device.counts().lines_printed);
}

}  // namespace

std::vector<std::string> Remarks::take(const Session& session, std::size_t seat) {
  told_.resize(session.seat_count());
  Told& told = told_[seat];
  const Observer& observer = session.observer(seat);
  const Device& device = session.device(seat);
  const Traffic& traffic = observer.traffic_to_panel();
  const Instant now = session.now();
  // Of a box that no file describes nothing is odd, and what runs beside a real one is not told of.
  const bool known = !is_bare(session.panel(seat));
  const bool speaks = session.source(seat) == SeatSource::kDevice;
  std::vector<std::string> remarks;
  const auto once = [&](bool& flag, bool due, auto&& words) {
    if (!due || flag) return;
    flag = true;
    remarks.push_back(words());
  };
  once(told.odd_line, known && traffic.counts().unknown > told.unknown_before,
       [&] { return odd_line_remark(observer, session.panel(seat)); });
  if (observer.opened_count() != told.openings)
    told = {.openings = observer.opened_count(), .unknown_before = traffic.counts().unknown};
  if (known && !device.baud_readable() && device.game_baud() != told.baud) {
    told.baud = device.game_baud();
    remarks.push_back(baud_remark(device));
  }
  once(told.no_end,
       known && traffic.unfinished_bytes() > 0 &&
           now - traffic.unfinished_since() > kUnfinishedLongest,
       [&] { return no_end_remark(traffic, session.panel(seat)); });
  once(told.not_reading, !observer.takes_at_once() && observer.input_age(now) > kUnreadLongest,
       [&] { return not_reading_remark(observer, now); });
  once(told.in_loader, speaks && device.bytes_in_loader() > 0,
       [&] { return in_loader_remark(device); });
  once(told.stopped, speaks && device.stopped(), [&] { return stopped_remark(device); });
  return remarks;
}

}  // namespace understudy
