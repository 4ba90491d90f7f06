// An observer of its own cuts and reads the lines; here they are kept.
#include "sim/window/line_log.h"

#include <fmt/format.h>

#include <algorithm>

#include "sim/base/text.h"

namespace understudy {
namespace {

const protocol::Matcher& formats_of(const LoggedLine& line) {
  return line.to_game ? line.panel->to_game : line.panel->to_panel;
}

char lower(char letter) {
  return letter >= 'A' && letter <= 'Z' ? static_cast<char>(letter - 'A' + 'a') : letter;
}

std::string broken_sentence(const LoggedLine& line) {
  const FramingDescription& framing =
      line.to_game ? line.panel->description.to_game : line.panel->description.to_panel;
  if (line.sort == LineSort::kTooLong)
    return fmt::format("no end of line within {} bytes; lines {} end with \"{}\"",
                       framing.longest_bytes, line.to_game ? "to the game" : "to this panel",
                       printable(framing.ends));
  return fmt::format("stray bytes: a line begins with \"{}\" and ends with \"{}\"",
                     printable(framing.starts), printable(framing.ends));
}

}  // namespace

std::vector<protocol::LinePlace> places_of(const LoggedLine& line) {
  const protocol::Matcher& formats = formats_of(line);
  std::int32_t format = line.format;
  if (line.sort == LineSort::kUnknown && formats.size() > 0)
    format = formats.explain(line.text).format;
  if (format < 0) return {};
  return formats.format(static_cast<std::size_t>(format)).places(line.text);
}

std::optional<LineTrouble> trouble_of(const LoggedLine& line) {
  if (!line.malformed()) return std::nullopt;
  const auto size = static_cast<std::uint32_t>(line.text.size());
  if (line.sort != LineSort::kUnknown) return LineTrouble{broken_sentence(line), 0, size};
  LineTrouble trouble;
  const Observer fresh(line.panel);
  const Traffic& traffic = line.to_game ? fresh.traffic_to_game() : fresh.traffic_to_panel();
  trouble.sentence = traffic.explain(line.text, formats_of(line));
  const protocol::Match match = formats_of(line).explain(line.text);
  if (match.format == protocol::kUnknownLine) {
    trouble.bytes = size;
    return trouble;
  }
  trouble.first_byte = std::min(size, std::max(1U, match.fault.column) - 1);
  trouble.bytes = std::min(size - trouble.first_byte, match.fault.found_bytes);
  return trouble;
}

bool LineFilter::passes(const LoggedLine& line) const {
  if (!(line.to_game ? to_game : to_panel)) return false;
  if (malformed_only && !line.malformed()) return false;
  if (contains.empty()) return true;
  return std::search(line.text.begin(), line.text.end(), contains.begin(), contains.end(),
                     [](char a, char b) { return lower(a) == lower(b); }) != line.text.end();
}

void LineLog::Shelf::show(const LoggedLine& line) {
  passing.push_back(line.number);
  rows.push_back(line.number * 2);
  if (line.malformed()) rows.push_back(line.number * 2 + 1);
}

void LineLog::put_down(bool to_game, const SeenLine& seen) {
  LoggedLine line = {.number = next_++,
                     .at = seen.ended,
                     .to_game = to_game,
                     .sort = seen.sort,
                     .format = seen.format,
                     .text = std::string(seen.text),
                     .panel = watcher_.panel()};
  if (filter_.passes(line)) live_.show(line);
  live_.lines.push_back(std::move(line));
  if (live_.lines.size() <= kLinesMax) return;
  const std::uint64_t gone = live_.lines.front().number;
  if (!live_.passing.empty() && live_.passing.front() == gone) live_.passing.pop_front();
  while (!live_.rows.empty() && live_.rows.front() / 2 == gone) live_.rows.pop_front();
  live_.lines.pop_front();
}

void LineLog::to_game(Instant t, std::string_view bytes, const LineSink& sink) {
  watcher_.to_game(t, bytes, [&](const SeenLine& seen) {
    put_down(true, seen);
    if (sink) sink(seen);
  });
}

void LineLog::to_panel(Instant t, std::string_view bytes, const LineSink& sink) {
  const std::uint64_t before = sieve_.count();
  std::string rest;
  sieve_.take(bytes, rest);
  watcher_.to_panel(t, rest, [&](const SeenLine& seen) {
    put_down(false, seen);
    if (sink) sink(seen);
  });
  if (sieve_.count() == before) return;
  put_down(false, {.began = t, .ended = t, .sort = LineSort::kSaid, .text = sieve_.newest()});
}

void LineLog::event(const Input& input) {
  watcher_.event(input);
  if (std::holds_alternative<LinkOpened>(input.what) ||
      std::holds_alternative<LinkClosed>(input.what))
    sieve_.begin_anew();
}

void LineLog::begin_anew(std::shared_ptr<const Panel> panel) {
  watcher_ = Observer(std::move(panel));
  sieve_.begin_anew();
}

void LineLog::pause(bool pausing) {
  if (pausing && !still_) still_ = live_;
  if (!pausing) still_.reset();
}

void LineLog::filter(Shelf& shelf) const {
  shelf.passing.clear();
  shelf.rows.clear();
  for (const LoggedLine& line : shelf.lines)
    if (filter_.passes(line)) shelf.show(line);
}

void LineLog::set_filter(const LineFilter& wanted) {
  if (wanted == filter_) return;
  filter_ = wanted;
  filter(live_);
  if (still_) filter(*still_);
}

const LoggedLine& LineLog::line(std::size_t i) const {
  const Shelf& from = shelf();
  return from.lines[from.passing[i] - from.lines.front().number];
}

LineLog::Row LineLog::row(std::size_t i) const {
  const Shelf& from = shelf();
  return {from.lines[from.rows[i] / 2 - from.lines.front().number], from.rows[i] % 2 == 1};
}

std::string_view LineLog::unfinished(bool to_game) const {
  return traffic(to_game).unfinished_head();
}

Instant LineLog::unfinished_since(bool to_game) const {
  return traffic(to_game).unfinished_bytes() > 0 ? traffic(to_game).unfinished_since()
                                                 : Instant{-1};
}

std::string time_of_line(Instant t) {
  const std::int64_t ms = t.ns / 1'000'000;
  const std::int64_t s = ms / 1'000;
  if (s < 3'600) return fmt::format("{}:{:02}.{:03}", s / 60, s % 60, ms % 1'000);
  return fmt::format("{}:{:02}:{:02}.{:03}", s / 3'600, s / 60 % 60, s % 60, ms % 1'000);
}

std::string copied(const LoggedLine& line) {
  return fmt::format("{}  {}  {}", time_of_line(line.at), line.to_game ? "to game " : "to panel",
                     printable(line.text));
}

}  // namespace understudy
