// Words for the state of a session.
#include "sim/app/status_text.h"

#include <fmt/format.h>

#include <algorithm>

#include "sim/app/status_rows.h"
#include "sim/base/text.h"

namespace understudy {
namespace {

// How many bytes were lost, and why.
struct Loss {
  std::int64_t count = 0;
  std::string_view reason;
};

// Bytes that nobody was there to hear, or that a game left unread when it went, are no loss: a real
// port drops them too.
std::vector<Loss> losses(const Session& session, std::size_t seat, const LinkCounts& links) {
  const DeviceCounts counts = session.device(seat).counts();
  std::vector<Loss> found{{counts.host.dropped_full, "host buffer full"},
                          {counts.receive.overrun, "the board's receive ring was full"},
                          {counts.receive.lost_in_boot, "sent while the board was starting"},
                          {counts.write_dropped, "write buffer full"}};
  for (std::size_t i = 0; i < kDropReasonCount; ++i) {
    const auto reason = static_cast<DropReason>(i);
    if (reason != DropReason::kNobodyOpen && reason != DropReason::kUnreadAtClose)
      found.push_back({static_cast<std::int64_t>(links.dropped[i]), name_of(reason)});
  }
  std::erase_if(found, [](const Loss& loss) { return loss.count == 0; });
  return found;
}

// "1 line", "2 lines".
std::string counted(std::int64_t count, std::string_view word) {
  return fmt::format("{} {}{}", count, word, count == 1 ? "" : "s");
}

std::string losses_text(const std::vector<Loss>& found) {
  std::int64_t sum = 0;
  std::string reasons;
  for (const Loss& loss : found) {
    sum += loss.count;
    reasons += fmt::format("{}{} {}", reasons.empty() ? "" : ", ", loss.count, loss.reason);
  }
  if (!reasons.empty()) reasons = " (" + reasons + ")";
  return counted(sum, "byte") + " lost" + reasons;
}

std::string age_text(const Observer& observer, Instant now) {
  if (observer.takes_at_once()) return "cannot be seen here";
  return fmt::format("{} ms", observer.input_age(now).ns / 1'000'000);
}

std::string game_text(const StatusView& view, std::size_t seat) {
  const Observer& observer = view.session.observer(seat);
  const Device& device = view.session.device(seat);
  if (!observer.connected()) return "nobody has the port open";
  if (device.starting()) return "connected; the board is starting";
  const Link* holder = view.links[seat].holder();
  std::string text =
      fmt::format("connected by {} for {:.0f} s", holder != nullptr ? holder->name() : "?",
                  static_cast<double>((view.session.now() - observer.connected_since()).ns) / 1e9);
  if (device.game_baud() > 0) text += fmt::format(", {} baud", device.game_baud());
  if (!device.baud_readable())
    text += fmt::format(" - but the panel speaks at {}", device.panel().description.wire.baud);
  if (device.panel().description.host.dtr == DtrMeans::kOpensGate && !device.dtr())
    text += ", DTR low: the board waits for it";
  return text;
}

// Puts a sentence at the end of `lines`, cut at blanks where it is too long for one.
void append_wrapped(std::string_view text, std::size_t columns, std::vector<std::string>& lines) {
  const std::size_t room = std::max<std::size_t>(columns, 24) - 4;
  while (text.size() > room) {
    const std::size_t blank = text.substr(0, room).rfind(' ');
    const std::size_t cut = blank == std::string_view::npos ? room : blank;
    lines.push_back("  " + std::string(text.substr(0, cut)));
    text.remove_prefix(blank == std::string_view::npos ? cut : cut + 1);
  }
  lines.push_back("  " + std::string(text));
}

std::vector<std::string> traffic_lines(const StatusView& view, std::size_t seat) {
  const Observer& observer = view.session.observer(seat);
  const Instant now = view.session.now();
  const auto line = [&](std::string_view title, const Traffic& traffic) {
    return fmt::format("  {:<9}{:>6.1f} lines/s {:>7.0f} bytes/s   unknown {}, broken {}", title,
                       traffic.lines_per_second(now), traffic.bytes_per_second(now),
                       traffic.counts().unknown, traffic.counts().broken);
  };
  std::vector<std::string> lines{line("to game", observer.traffic_to_game()),
                                 line("to panel", observer.traffic_to_panel())};
  lines.push_back(fmt::format("  {:<9}input age {}", "", age_text(observer, now)));
  lines.push_back(fmt::format("  {:<9}{}", "",
                              losses_text(losses(view.session, seat, view.links[seat].counts()))));
  const Traffic& from_game = observer.traffic_to_panel();
  if (!from_game.last_unknown().empty())
    append_wrapped(fmt::format("last odd line \"{}\": {}", printable(from_game.last_unknown()),
                               from_game.explain_last_unknown(view.session.panel(seat).to_panel)),
                   view.columns, lines);
  return lines;
}

void append_seat(const StatusView& view, std::size_t seat, std::vector<std::string>& lines) {
  const PanelDescription& panel = view.session.panel(seat).description;
  for (const std::unique_ptr<Link>& link : view.links[seat].links())
    lines.push_back(fmt::format("  {:<9}{}", link->name(), link->where()));
  lines.push_back(fmt::format("  {:<9}{}", "game", game_text(view, seat)));
  for (std::string& line : traffic_lines(view, seat)) lines.push_back(std::move(line));
  for (std::size_t i = 0; i < panel.controls.size(); ++i)
    lines.push_back(control_row({view.session, seat, i},
                                view.selection.seat == seat && view.selection.control == i,
                                view.key_names[seat][i]));
  for (std::size_t i = 0; i < panel.outputs.size(); ++i)
    lines.push_back(output_row({view.session, seat, i}));
}

std::string seat_line(const StatusView& view, std::size_t seat) {
  const Observer& observer = view.session.observer(seat);
  const Instant now = view.session.now();
  std::int64_t lost = 0;
  for (const Loss& loss : losses(view.session, seat, view.links[seat].counts())) lost += loss.count;
  return fmt::format("{} {:<14}{:>6.1f} lines/s to game {:>6.1f} to panel  {} lost  {}",
                     view.selection.seat == seat ? '*' : ' ', view.session.name(seat),
                     observer.traffic_to_game().lines_per_second(now),
                     observer.traffic_to_panel().lines_per_second(now), lost,
                     observer.connected() ? "connected" : "nobody there");
}

constexpr std::string_view kHelp[] = {
    "  up, down      choose a control             tab      the next seat",
    "  right, left   more, less; down, up of a    space    press a button or stick, turn a",
    "                button or switch; one place           switch, a selector one place on",
    "                or click; a stick sideways   ?        this help",
    "  keys in [ ]   move that control at once    ctrl-C   end",
};

}  // namespace

std::vector<std::string> status_lines(const StatusView& view) {
  std::vector<std::string> lines;
  const double at = static_cast<double>(view.session.now().ns) / 1e9;
  const std::size_t seats = view.session.seat_count();
  const std::string title =
      seats == 1 ? view.session.panel(0).description.name : fmt::format("{} seats", seats);
  const std::string replay = view.replay.empty() ? "" : "   replay " + view.replay;
  lines.push_back(fmt::format("{}   {:.1f} s{}   ? help", title, at, replay));
  if (view.help) lines.insert(lines.end(), std::begin(kHelp), std::end(kHelp));
  if (seats > 1) {
    const std::size_t shown = std::min(seats, std::max<std::size_t>(4, view.rows / 3));
    const std::size_t first =
        std::min(view.selection.seat >= shown ? view.selection.seat - shown + 1 : 0, seats - shown);
    for (std::size_t i = first; i < first + shown; ++i) lines.push_back(seat_line(view, i));
    if (shown < seats) lines.push_back(fmt::format("  ... {} seats in all", seats));
  }
  append_seat(view, view.selection.seat, lines);
  const std::size_t most = std::max<std::size_t>(2, view.rows) - 1;
  if (lines.size() > most) {
    lines.resize(most);
    lines.back() = "  ... this terminal has too few rows for the rest";
  }
  for (std::string& line : lines)
    if (line.size() > view.columns) line.resize(view.columns);
  return lines;
}

std::string summary_of(const Session& session, std::size_t seat, const LinkCounts& links,
                       std::int64_t changes) {
  const Observer& observer = session.observer(seat);
  if (observer.opened_count() == 0) return session.name(seat) + ": nobody opened a port";
  const LineCounts& from_game = observer.traffic_to_panel().counts();
  std::string text = fmt::format("{}: {} to the game, {} from it", session.name(seat),
                                 counted(observer.traffic_to_game().counts().known, "line"),
                                 counted(from_game.known, "line"));
  if (from_game.unknown > 0) text += fmt::format(" and {} odd ones", from_game.unknown);
  return text + fmt::format(", outputs changed {}, opened {}, {}", counted(changes, "time"),
                            counted(observer.opened_count(), "time"),
                            losses_text(losses(session, seat, links)));
}

}  // namespace understudy
