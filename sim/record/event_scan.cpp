// One function for each kind of event, after the keys in their canonical order.
#include "sim/record/event_scan.h"

#include <algorithm>

#include "sim/record/event_text.h"
#include "sim/record/line_text.h"
#include "sim/record/scan_cursor.h"

namespace understudy {
namespace {

using namespace recorded;

bool scan_bytes(ScanCursor& cursor, EventRoom& room, std::string_view& bytes) {
  if (cursor.take(R"(,"text":")")) return cursor.take_text(room.text, bytes);
  return cursor.take(R"(,"hex":")") && cursor.take_hex(room.text, bytes);
}

bool scan_part(ScanCursor& cursor, std::string_view& part) {
  return !cursor.take(R"(,"part":")") || cursor.take_plain(part);
}

bool scan_panel(ScanCursor& cursor, EventRoom& room, What& what) {
  if (cursor.take(R"(,"output":")")) {
    OutputSet set;
    if (!cursor.take_plain(set.output) || !scan_part(cursor, set.part)) return false;
    if (!cursor.take(R"(,"number":)") || !cursor.take_number(set.number)) return false;
    what = set;
    return true;
  }
  if (cursor.take(R"(,"note":")")) {
    Noted noted;
    std::string_view name;
    if (!cursor.take_plain(name) || !find_named(name, noted.kind)) return false;
    if (!cursor.take(R"(,"count":)") || !cursor.take_number(noted.count)) return false;
    what = noted;
    return true;
  }
  ToGame chunk;
  if (!scan_bytes(cursor, room, chunk.bytes)) return false;
  if (cursor.take(R"(,"late_us":)") && !cursor.take_number(chunk.late_us)) return false;
  what = chunk;
  return true;
}

bool scan_how(ScanCursor& cursor, Duration& duration, Curve& curve) {
  std::string_view name;
  if (!cursor.take(R"(,"duration_ns":)") || !cursor.take_number(duration.ns)) return false;
  if (!cursor.take(R"(,"curve":")") || !cursor.take_plain(name)) return false;
  return find_named(name, curve);
}

bool scan_held(ScanCursor& cursor, bool held, What& what) {
  auto& hand = what.emplace<HandHeld>();
  hand.held = held;
  return cursor.take_plain(hand.control) && scan_part(cursor, hand.part);
}

bool scan_hand(ScanCursor& cursor, What& what) {
  if (cursor.take(R"(,"control":")")) {
    auto& hand = what.emplace<HandMoved>();
    if (!cursor.take_plain(hand.control) || !scan_part(cursor, hand.part)) return false;
    if (!cursor.take(R"(,"to_ppm":)") || !cursor.take_number(hand.to_ppm)) return false;
    return scan_how(cursor, hand.duration, hand.curve);
  }
  if (cursor.take(R"(,"holds":")")) return scan_held(cursor, true, what);
  if (cursor.take(R"(,"lets_go":")")) return scan_held(cursor, false, what);
  auto& hand = what.emplace<HandTurned>();
  if (!cursor.take(R"(,"turned":")") || !cursor.take_plain(hand.control)) return false;
  if (!scan_part(cursor, hand.part)) return false;
  if (!cursor.take(R"(,"by_ppm":)") || !cursor.take_number(hand.by_ppm)) return false;
  return scan_how(cursor, hand.duration, hand.curve);
}

bool scan_link(ScanCursor& cursor, What& what) {
  if (!cursor.take(R"(,"event":")")) return false;
  if (cursor.take(R"(taken","bytes":)")) return cursor.take_number(what.emplace<Taken>().bytes);
  if (cursor.take(R"(opened","dtr":)")) {
    auto& opened = what.emplace<LinkOpened>();
    return cursor.take_truth(opened.dtr) && cursor.take(R"(,"takes_at_once":)") &&
           cursor.take_truth(opened.takes_at_once);
  }
  if (cursor.take(R"(closed")")) {
    what = LinkClosed{};
    return true;
  }
  if (cursor.take(R"(line settings","baud":)")) {
    auto& settings = what.emplace<LineSettings>();
    std::int64_t stop_bits = 0;
    if (!cursor.take_number(settings.baud)) return false;
    if (!cursor.take(R"(,"stop_bits":)") || !cursor.take_number(stop_bits)) return false;
    settings.stop_bits = static_cast<int>(stop_bits);
    return stop_bits >= 1 && stop_bits <= 2;
  }
  if (cursor.take(R"(modem lines","dtr":)")) {
    auto& lines = what.emplace<ModemLines>();
    return cursor.take_truth(lines.dtr) && cursor.take(R"(,"rts":)") &&
           cursor.take_truth(lines.rts);
  }
  if (cursor.take(R"(source","source":")")) {
    std::string_view name;
    return cursor.take_plain(name) && find_named(name, what.emplace<SourceChanged>().source);
  }
  return cursor.take(R"(slipped","by_ns":)") && cursor.take_number(what.emplace<Slipped>().by.ns);
}

bool scan_file(ScanCursor& cursor, EventRoom& room, What& what) {
  auto& read = what.emplace<PanelRead>();
  return cursor.take(R"(,"panel":")") && cursor.take_text(room.text, read.panel) &&
         cursor.take(R"(,"resolved":")") && cursor.take_text(room.resolved, read.resolved);
}

bool scan_whole_session(ScanCursor& cursor, EventRoom& room, What& what) {
  if (cursor.take(R"(check","fingerprint":")")) {
    auto& check = what.emplace<Check>();
    return cursor.take_digest(check.fingerprint) && cursor.take(R"(","inputs":")") &&
           cursor.take_digest(check.inputs) && cursor.take("\"");
  }
  if (cursor.take(R"(mark","text":")"))
    return cursor.take_text(room.text, what.emplace<Mark>().text);
  return cursor.take(R"(mark","ended":")") &&
         cursor.take_text(room.text, what.emplace<Ended>().reason);
}

// Most events are of the seat before, so that is compared before any is looked for.
bool scan_seat(ScanCursor& cursor, const SeatNames& seats, std::uint16_t& seat) {
  if (cursor.take_view(seats.last_quoted())) {
    seat = seats.last();
    return true;
  }
  std::string_view name;
  if (!cursor.take_raw(name)) return false;
  const std::optional<std::uint16_t> found = seats.find_quoted(name);
  seat = found.value_or(kWholeSession);
  return found.has_value();
}

// Looks `name` up in a sorted list; its place there, or the list's size.
std::size_t place_of(const std::vector<std::pair<std::string, std::uint16_t>>& sorted,
                     std::string_view name) {
  const auto found = std::lower_bound(
      sorted.begin(), sorted.end(), name,
      [](const auto& entry, std::string_view wanted) { return entry.first < wanted; });
  if (found == sorted.end() || found->first != name) return sorted.size();
  return static_cast<std::size_t>(found - sorted.begin());
}

}  // namespace

SeatNames::SeatNames(const RecordingHeader& header) {
  for (std::size_t i = 0; i < header.seats.size(); ++i) {
    LineText text;
    text.put_quoted(header.seats[i].name);
    text.put("\"");
    quoted_.emplace_back(text.view(), static_cast<std::uint16_t>(i));
    plain_.emplace_back(header.seats[i].name, static_cast<std::uint16_t>(i));
  }
  std::sort(quoted_.begin(), quoted_.end());
  std::sort(plain_.begin(), plain_.end());
}

std::optional<std::uint16_t> SeatNames::find_quoted(std::string_view quoted) const {
  const std::size_t place = place_of(quoted_, quoted);
  if (place == quoted_.size()) return std::nullopt;
  last_ = place;
  return quoted_[place].second;
}

std::optional<std::uint16_t> SeatNames::find(std::string_view name) const {
  const std::size_t place = place_of(plain_, name);
  if (place == plain_.size()) return std::nullopt;
  return plain_[place].second;
}

bool scan_event(std::string_view line, const SeatNames& seats, EventRoom& room,
                RecordedEvent& event) {
  ScanCursor cursor(line);
  if (!cursor.take(R"({"ns":)") || !cursor.take_number(event.at.ns) || event.at.ns < 0)
    return false;
  event.seat = kWholeSession;
  if (cursor.take(R"(,"seat":")")) {
    if (!scan_seat(cursor, seats, event.seat)) return false;
  }
  if (!cursor.take(R"(,"from":")")) return false;
  bool read = false;
  if (event.seat == kWholeSession)
    read = scan_whole_session(cursor, room, event.what);
  else if (cursor.take(R"(panel")"))
    read = scan_panel(cursor, room, event.what);
  else if (cursor.take(R"(game")"))
    read = scan_bytes(cursor, room, event.what.emplace<FromGame>().bytes);
  else if (cursor.take(R"(hand")"))
    read = scan_hand(cursor, event.what);
  else if (cursor.take(R"(link")"))
    read = scan_link(cursor, event.what);
  else if (cursor.take(R"(file")"))
    read = scan_file(cursor, room, event.what);
  return read && cursor.take("}") && cursor.done();
}

}  // namespace understudy
