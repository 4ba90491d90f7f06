// Takes members out of a parsed line one by one; the first that is missing or wrong ends it.
// Unknown members are passed over: newer programs may write more.
#include "sim/record/event_json.h"

#include <charconv>
#include <limits>
#include <nlohmann/json.hpp>
#include <optional>
#include <type_traits>

#include "sim/base/text.h"
#include "sim/record/event_text.h"

namespace understudy {
namespace {

using namespace recorded;
using nlohmann::json;

constexpr std::size_t kSeatsMax = 1'024;
constexpr std::size_t kShownBytesMax = 60;

std::string shown(std::string_view text) {
  if (text.size() <= kShownBytesMax) return printable(text);
  return printable(text.substr(0, kShownBytesMax)) + "...";
}

// The members of one object. The first problem stays; after it, what comes out is meaningless.
class Members {
 public:
  explicit Members(const json& object) : object_(object) {}

  [[nodiscard]] const std::string& problem() const { return problem_; }
  [[nodiscard]] bool ok() const { return problem_.empty(); }
  [[nodiscard]] bool has(const char* key) const { return object_.contains(key); }

  const std::string& text(const char* key) {
    static const std::string kNone;
    const json* member = find(key);
    if (member == nullptr) return kNone;
    if (member->is_string()) return member->get_ref<const std::string&>();
    wrong(key, *member, "a text");
    return kNone;
  }

  template <class Integer>
  Integer number(const char* key, Integer low = std::numeric_limits<Integer>::min(),
                 Integer high = std::numeric_limits<Integer>::max()) {
    const json* member = find(key);
    if (member == nullptr) return low;
    if constexpr (std::is_unsigned_v<Integer>) {
      if (member->is_number_unsigned()) return member->get<Integer>();
    } else if (member->is_number_integer() && fits(*member)) {
      const auto value = member->get<std::int64_t>();
      if (value >= low && value <= high) return static_cast<Integer>(value);
    }
    wrong(key, *member,
          "a whole number from " + std::to_string(low) + " to " + std::to_string(high));
    return low;
  }

  bool truth(const char* key) {
    const json* member = find(key);
    if (member == nullptr) return false;
    if (!member->is_boolean()) wrong(key, *member, "true or false");
    return member->is_boolean() && member->get<bool>();
  }

  std::uint64_t digest(const char* key) {
    const std::string& digits = text(key);
    std::uint64_t value = 0;
    const char* const end = digits.data() + digits.size();
    const auto [stop, error] = std::from_chars(digits.data(), end, value, 16);
    if (ok() && (digits.size() != 16 || stop != end || error != std::errc{}))
      wrong(key, json(digits), "sixteen hexadecimal digits");
    return value;
  }

  void wrong(const char* key, const json& found, const std::string& right) {
    fail(std::string("\"") + key + "\" is " +
         shown(found.dump(-1, ' ', false, json::error_handler_t::replace)) + "; it should be " +
         right);
  }
  void fail(std::string problem) {
    if (problem_.empty()) problem_ = std::move(problem);
  }

 private:
  static bool fits(const json& number) {
    return !number.is_number_unsigned() ||
           number.get<std::uint64_t>() <=
               static_cast<std::uint64_t>(std::numeric_limits<std::int64_t>::max());
  }
  const json* find(const char* key) {
    const auto member = object_.find(key);
    if (member != object_.end()) return &*member;
    fail(std::string("\"") + key + "\" is missing");
    return nullptr;
  }

  const json& object_;
  std::string problem_;
};

bool put_hex_bytes(std::string_view digits, std::string& bytes) {
  bytes.clear();
  if (digits.size() % 2 != 0) return false;
  for (std::size_t i = 0; i < digits.size(); i += 2) {
    std::uint8_t byte = 0;
    const auto [stop, error] = std::from_chars(&digits[i], &digits[i] + 2, byte, 16);
    if (stop != &digits[i] + 2 || error != std::errc{}) return false;
    bytes += static_cast<char>(byte);
  }
  return true;
}

std::string_view take_bytes(Members& members, EventRoom& room) {
  if (!members.has("hex")) {
    room.text = members.text("text");
  } else if (const std::string& digits = members.text("hex"); !put_hex_bytes(digits, room.text)) {
    members.wrong("hex", json(digits), "pairs of hexadecimal digits");
  }
  return room.text;
}

std::string_view take_name(Members& members, const char* key, EventRoom& room) {
  room.name = members.text(key);
  return room.name;
}

std::string_view take_part(Members& members, EventRoom& room) {
  room.part = members.has("part") ? members.text("part") : "";
  return room.part;
}

// One of the written names of curves or notes.
template <class Named>
Named take_named(Members& members, const char* key, const char* right) {
  Named named{};
  const std::string& text = members.text(key);
  if (members.ok() && !find_named(text, named)) members.wrong(key, json(text), right);
  return named;
}

// Nothing: the kind of event is not known.
std::optional<What> take_from_panel(Members& members, EventRoom& room) {
  if (members.has("output"))
    return OutputSet{.output = take_name(members, "output", room),
                     .number = members.number<std::int64_t>("number"),
                     .part = take_part(members, room)};
  if (members.has("note")) {
    Noted noted;
    if (!find_named(members.text("note"), noted.kind)) return std::nullopt;
    noted.count = members.number<std::int64_t>("count");
    return noted;
  }
  if (!members.has("text") && !members.has("hex")) return std::nullopt;
  ToGame chunk{take_bytes(members, room)};
  if (members.has("late_us")) chunk.late_us = members.number<std::int64_t>("late_us");
  return chunk;
}

std::optional<What> take_from_game(Members& members, EventRoom& room) {
  if (!members.has("text") && !members.has("hex")) return std::nullopt;
  return FromGame{take_bytes(members, room)};
}

std::optional<What> take_from_hand(Members& members, EventRoom& room) {
  const auto take_how = [&](auto& hand) {
    hand.part = take_part(members, room);
    hand.duration.ns = members.number<std::int64_t>("duration_ns");
    hand.curve = take_named<Curve>(members, "curve", R"("at once", "linear" or "minimum jerk")");
  };
  if (members.has("control")) {
    HandMoved hand;
    hand.control = take_name(members, "control", room);
    hand.to_ppm = members.number<std::int64_t>("to_ppm");
    take_how(hand);
    return hand;
  }
  for (const bool held : {true, false}) {
    const char* const key = held ? "holds" : "lets_go";
    if (members.has(key))
      return HandHeld{
          .control = take_name(members, key, room), .held = held, .part = take_part(members, room)};
  }
  if (!members.has("turned")) return std::nullopt;
  HandTurned hand;
  hand.control = take_name(members, "turned", room);
  hand.by_ppm = members.number<std::int64_t>("by_ppm");
  take_how(hand);
  return hand;
}

std::optional<What> take_from_link(Members& members, EventRoom&) {
  const std::string& event = members.text("event");
  if (event == "opened") return LinkOpened{members.truth("dtr"), members.truth("takes_at_once")};
  if (event == "closed") return LinkClosed{};
  if (event == "line settings")
    return LineSettings{members.number<std::int64_t>("baud"),
                        members.number<int>("stop_bits", 1, 2)};
  if (event == "modem lines") return ModemLines{members.truth("dtr"), members.truth("rts")};
  if (event == "taken") return Taken{members.number<std::int64_t>("bytes")};
  if (event == "source") {
    SourceChanged changed;
    if (!find_named(members.text("source"), changed.source)) return std::nullopt;
    return changed;
  }
  if (event == "slipped") return Slipped{Duration{members.number<std::int64_t>("by_ns")}};
  return std::nullopt;
}

std::optional<What> take_from_file(Members& members, EventRoom& room) {
  if (!members.has("panel")) return std::nullopt;
  room.text = members.text("panel");
  room.resolved = members.text("resolved");
  return PanelRead{.panel = room.text, .resolved = room.resolved};
}

std::optional<What> take_mark(Members& members, EventRoom& room) {
  if (members.has("ended")) {
    room.text = members.text("ended");
    return Ended{room.text};
  }
  if (!members.has("text")) return std::nullopt;
  room.text = members.text("text");
  return Mark{room.text};
}

std::optional<What> take_check(Members& members, EventRoom&) {
  if (!members.has("fingerprint")) return std::nullopt;
  return Check{members.digest("fingerprint"), members.digest("inputs")};
}

struct Source {
  std::string_view from;
  bool has_seat;
  std::optional<What> (*take)(Members&, EventRoom&);
};
constexpr Source kSources[] = {
    {"panel", true, take_from_panel}, {"game", true, take_from_game},
    {"hand", true, take_from_hand},   {"link", true, take_from_link},
    {"file", true, take_from_file},   {"mark", false, take_mark},
    {"check", false, take_check},
};

const Source* find_source(std::string_view from) {
  for (const Source& source : kSources)
    if (source.from == from) return &source;
  return nullptr;
}

// "1.0" -> its two numbers.
bool read_format(std::string_view text, int& major, int& minor) {
  const char* const end = text.data() + text.size();
  const auto first = std::from_chars(text.data(), end, major);
  if (first.ec != std::errc{} || first.ptr == end || *first.ptr != '.') return false;
  const auto second = std::from_chars(first.ptr + 1, end, minor);
  return second.ec == std::errc{} && second.ptr == end && major >= 0 && minor >= 0;
}

Error unusable(std::string text) {
  return {ErrorCode::kUnusable, std::move(text)};
}

std::string read_seat(const json& object, RecordedSeat& seat) {
  if (!object.is_object()) return "a seat is not an object";
  Members members(object);
  seat.name = members.text("name");
  seat.panel = members.text("panel");
  seat.resolved = members.text("resolved");
  seat.whole_lines = members.truth("whole_lines");
  if (members.has("source"))
    seat.source = take_named<SeatSource>(members, "source", R"("device", "box" or "recording")");
  const auto links = object.find("links");
  if (links != object.end() && links->is_array()) {
    for (const json& link : *links)
      if (link.is_string()) seat.links.push_back(link.get<std::string>());
  }
  return members.problem();
}

std::string read_seats(const json& object, std::vector<RecordedSeat>& seats) {
  const auto list = object.find("seats");
  if (list == object.end() || !list->is_array()) return "\"seats\" is missing or not a list";
  if (list->size() > kSeatsMax) return "more than " + std::to_string(kSeatsMax) + " seats";
  for (const json& member : *list) {
    RecordedSeat seat;
    if (std::string problem = read_seat(member, seat); !problem.empty())
      return "seat " + std::to_string(seats.size() + 1) + ": " + problem;
    for (const RecordedSeat& other : seats)
      if (other.name == seat.name) return "two seats are called \"" + shown(seat.name) + "\"";
    seats.push_back(std::move(seat));
  }
  return "";
}

}  // namespace

Result<RecordingHeader> read_header(std::string_view line) {
  const json object = json::parse(line, nullptr, false);
  if (!object.is_object() || !object.contains("format"))
    return unusable("this is not a recording: its first line is not a header with \"format\"");
  Members members(object);
  RecordingHeader header;
  int major = 0;
  const std::string& format = members.text("format");
  if (!members.ok() || !read_format(format, major, header.minor))
    return unusable("\"format\" is not two numbers such as \"1.0\"");
  if (major != kRecordingMajor)
    return unusable("it is of format " + shown(format) + ", and this program reads format " +
                    std::to_string(kRecordingMajor) + "; use a program of its time");
  header.model = members.number<int>("model", 0);
  header.seed = members.number<std::uint64_t>("seed");
  header.start = members.text("start");
  header.program = members.text("program");
  if (!members.ok()) return unusable("line 1: " + members.problem());
  if (const std::string problem = read_seats(object, header.seats); !problem.empty())
    return unusable("line 1: " + problem);
  return header;
}

JsonLine read_event(std::string_view line, const SeatNames& seats, EventRoom& room,
                    RecordedEvent& event) {
  using Kind = JsonLine::Kind;
  const json object = json::parse(line, nullptr, false);
  if (object.is_discarded()) return {Kind::kBad, "this is not JSON: " + shown(line)};
  if (!object.is_object()) return {Kind::kBad, "this is not a JSON object: " + shown(line)};
  Members members(object);
  event.at.ns = members.number<std::int64_t>("ns", 0);
  const std::string& from = members.text("from");
  if (!members.ok()) return {Kind::kBad, members.problem()};
  const Source* source = find_source(from);
  if (source == nullptr) return {Kind::kUnknownKind, "nothing comes from \"" + shown(from) + "\""};
  event.seat = kWholeSession;
  if (source->has_seat) {
    const std::string& name = members.text("seat");
    const std::optional<std::uint16_t> seat = seats.find(name);
    if (members.ok() && !seat) members.fail("the header has no seat \"" + shown(name) + "\"");
    event.seat = seat.value_or(kWholeSession);
  }
  std::optional<What> what = source->take(members, room);
  if (!members.ok()) return {Kind::kBad, members.problem()};
  if (!what) return {Kind::kUnknownKind, "this program knows no such event: " + shown(line)};
  event.what = *what;
  return {Kind::kEvent, {}};
}

}  // namespace understudy
