// A cursor that only goes forward and gives up at the first byte it did not expect.
#include "sim/record/event_scan.h"

#include <algorithm>
#include <array>
#include <cstring>

#include "sim/base/text.h"
#include "sim/record/event_text.h"
#include "sim/record/line_text.h"

namespace understudy {
namespace {

using namespace recorded;

// What follows a backslash, and the byte it stands for; 0: not canonical (or `u`).
constexpr std::array<char, 256> kUnescaped = [] {
  std::array<char, 256> table{};
  table['b'] = '\b';
  table['t'] = '\t';
  table['n'] = '\n';
  table['f'] = '\f';
  table['r'] = '\r';
  table['"'] = '"';
  table['\\'] = '\\';
  return table;
}();

int hex_value(char c) {
  if (c >= '0' && c <= '9') return c - '0';
  if (c >= 'a' && c <= 'f') return c - 'a' + 10;
  return -1;
}

class Cursor {
 public:
  explicit Cursor(std::string_view line) : at_(line.data()), end_(at_ + line.size()) {}

  [[nodiscard]] bool done() const { return at_ == end_; }
  [[nodiscard]] char peek() const { return at_ < end_ ? *at_ : '\0'; }

  template <std::size_t N>
  bool take(const char (&text)[N]) {
    constexpr std::size_t kSize = N - 1;
    if (static_cast<std::size_t>(end_ - at_) < kSize || std::memcmp(at_, text, kSize) != 0)
      return false;
    at_ += kSize;
    return true;
  }

  // A whole number of at most 18 digits, written as numbers are written; longer ones are rare
  // enough for the slow path.
  bool take_number(std::int64_t& number) {
    const bool negative = peek() == '-';
    if (negative) ++at_;
    const char* const begin = at_;
    std::int64_t value = 0;
    while (at_ < end_ && *at_ >= '0' && *at_ <= '9' && at_ - begin < 19)
      value = value * 10 + (*at_++ - '0');
    const auto digits = at_ - begin;
    if (digits == 0 || digits > 18 || (digits > 1 && *begin == '0')) return false;
    if (negative && value == 0) return false;
    number = negative ? -value : value;
    return true;
  }

  // Sixteen small hexadecimal digits.
  bool take_digest(std::uint64_t& digest) {
    if (end_ - at_ < 16) return false;
    std::uint64_t value = 0;
    for (int i = 0; i < 16; ++i) {
      const int digit = hex_value(*at_++);
      if (digit < 0) return false;
      value = value << 4 | static_cast<std::uint64_t>(digit);
    }
    digest = value;
    return true;
  }

  bool take_truth(bool& truth) {
    truth = take("true");
    return truth || take("false");
  }

  // Up to and with the closing quote; not for texts with escapes or bytes beyond ASCII.
  bool take_plain(std::string_view& text) {
    const char* const begin = at_;
    for (; at_ < end_; ++at_) {
      const auto byte = static_cast<unsigned char>(*at_);
      if (byte == '"') {
        text = {begin, static_cast<std::size_t>(at_ - begin)};
        ++at_;
        return true;
      }
      if (byte == '\\' || byte < 0x20 || byte >= 0x80) return false;
    }
    return false;
  }

  // The raw inside of a string, up to and with the closing quote.
  bool take_raw(std::string_view& text) {
    const char* const begin = at_;
    for (; at_ < end_; ++at_) {
      if (*at_ == '"') {
        text = {begin, static_cast<std::size_t>(at_ - begin)};
        ++at_;
        return true;
      }
      if (*at_ == '\\') ++at_;
    }
    return false;
  }

  // A string with escapes, unquoted into `room`, up to and with the closing quote.
  bool take_text(std::string& room, std::string_view& text) {
    const auto left = static_cast<std::size_t>(end_ - at_);
    if (room.size() < left) room.resize(left * 2);
    char* to = room.data();
    unsigned char all = 0;
    while (at_ < end_) {
      const char c = *at_++;
      if (c == '"') {
        text = {room.data(), static_cast<std::size_t>(to - room.data())};
        return all < 0x80 || is_valid_utf8(text);
      }
      if (c == '\\') {
        if (!take_escape(*to)) return false;
        ++to;
        continue;
      }
      if (static_cast<unsigned char>(c) < 0x20) return false;
      all |= static_cast<unsigned char>(c);
      *to++ = c;
    }
    return false;
  }

  // Pairs of hexadecimal digits, up to and with the closing quote.
  bool take_hex(std::string& room, std::string_view& bytes) {
    const auto left = static_cast<std::size_t>(end_ - at_);
    if (room.size() < left) room.resize(left * 2);
    char* to = room.data();
    while (end_ - at_ >= 2 && *at_ != '"') {
      const int high = hex_value(at_[0]);
      const int low = hex_value(at_[1]);
      if (high < 0 || low < 0) return false;
      *to++ = static_cast<char>(high << 4 | low);
      at_ += 2;
    }
    bytes = {room.data(), static_cast<std::size_t>(to - room.data())};
    return take("\"");
  }

 private:
  bool take_escape(char& byte) {
    if (at_ == end_) return false;
    const char c = *at_++;
    if (c != 'u') return (byte = kUnescaped[static_cast<unsigned char>(c)]) != 0;
    if (end_ - at_ < 4 || at_[0] != '0' || at_[1] != '0') return false;
    const int high = hex_value(at_[2]);
    const int low = hex_value(at_[3]);
    if (high < 0 || high > 1 || low < 0) return false;
    byte = static_cast<char>(high << 4 | low);
    at_ += 4;
    return true;
  }

  const char* at_;
  const char* end_;
};

bool scan_bytes(Cursor& cursor, EventRoom& room, std::string_view& bytes) {
  if (cursor.take(R"(,"text":")")) return cursor.take_text(room.text, bytes);
  return cursor.take(R"(,"hex":")") && cursor.take_hex(room.text, bytes);
}

bool scan_panel(Cursor& cursor, EventRoom& room, What& what) {
  if (cursor.take(R"(,"output":")")) {
    OutputSet set;
    if (!cursor.take_plain(set.output)) return false;
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

bool scan_hand(Cursor& cursor, What& what) {
  HandMoved hand;
  std::string_view curve;
  if (!cursor.take(R"(,"control":")") || !cursor.take_plain(hand.control)) return false;
  if (!cursor.take(R"(,"to_ppm":)") || !cursor.take_number(hand.to_ppm)) return false;
  if (!cursor.take(R"(,"duration_ns":)") || !cursor.take_number(hand.duration.ns)) return false;
  if (!cursor.take(R"(,"curve":")") || !cursor.take_plain(curve)) return false;
  if (!find_named(curve, hand.curve)) return false;
  what = hand;
  return true;
}

bool scan_link(Cursor& cursor, What& what) {
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
  return cursor.take(R"(slipped","by_ns":)") && cursor.take_number(what.emplace<Slipped>().by.ns);
}

bool scan_whole_session(Cursor& cursor, EventRoom& room, What& what) {
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
    quoted_.emplace_back(text.view(), static_cast<std::uint16_t>(i));
    plain_.emplace_back(header.seats[i].name, static_cast<std::uint16_t>(i));
  }
  std::sort(quoted_.begin(), quoted_.end());
  std::sort(plain_.begin(), plain_.end());
}

std::optional<std::uint16_t> SeatNames::find_quoted(std::string_view quoted) const {
  if (last_ >= quoted_.size() || quoted_[last_].first != quoted) last_ = place_of(quoted_, quoted);
  if (last_ == quoted_.size()) return std::nullopt;
  return quoted_[last_].second;
}

std::optional<std::uint16_t> SeatNames::find(std::string_view name) const {
  const std::size_t place = place_of(plain_, name);
  if (place == plain_.size()) return std::nullopt;
  return plain_[place].second;
}

bool scan_event(std::string_view line, const SeatNames& seats, EventRoom& room,
                RecordedEvent& event) {
  Cursor cursor(line);
  if (!cursor.take(R"({"ns":)") || !cursor.take_number(event.at.ns) || event.at.ns < 0)
    return false;
  event.seat = kWholeSession;
  if (cursor.take(R"(,"seat":")")) {
    std::string_view name;
    if (!cursor.take_raw(name)) return false;
    const std::optional<std::uint16_t> seat = seats.find_quoted(name);
    if (!seat) return false;
    event.seat = *seat;
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
  return read && cursor.take("}") && cursor.done();
}

}  // namespace understudy
