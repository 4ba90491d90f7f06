// Events as text: the written form, held to the examples of docs/recording.md, and the two ways of
// reading it back, which must agree on every event.
#include "sim/record/event_text.h"

#include <gtest/gtest.h>
#include <rapidcheck.h>

#include <fstream>
#include <limits>
#include <nlohmann/json.hpp>
#include <set>

#include "sim/base/text.h"
#include "sim/record/event_json.h"
#include "sim/record/event_scan.h"
#include "tests/sim/record/samples.h"

namespace understudy {
namespace {

using namespace recorded;

std::string written(const RecordedEvent& event) {
  return std::string(EventText(sample_header()).line(event));
}

TEST(EventText, EveryKindOfEventHasItsWrittenForm) {
  const std::vector<RecordedEvent> events = sample_events();
  const char* const lines[] = {
      R"({"ns":1,"seat":"tram","from":"link","event":"opened","dtr":true,"takes_at_once":false})",
      R"({"ns":2,"seat":"tram","from":"link","event":"line settings","baud":115200,"stop_bits":2})",
      R"({"ns":3,"seat":"crane \"2\"","from":"link","event":"modem lines","dtr":true,"rts":false})",
      R"({"ns":4,"seat":"tram","from":"hand","control":"bell","to_ppm":1000000,)"
      R"("duration_ns":120000000,"curve":"linear"})",
      R"({"ns":5,"seat":"tram","from":"hand","control":"power","to_ppm":0,)"
      R"("duration_ns":0,"curve":"at once"})",
      "{\"ns\":6,\"seat\":\"tram\",\"from\":\"hand\",\"control\":\"gr\xc3\xb6\xc3\x9f"
      "e\","
      R"("to_ppm":12,"duration_ns":7,"curve":"minimum jerk"})",
      R"({"ns":7,"seat":"tram","from":"hand","control":"stick","part":"x","to_ppm":800000,)"
      R"("duration_ns":8,"curve":"minimum jerk"})",
      R"({"ns":8,"seat":"crane \"2\"","from":"hand","turned":"focus","by_ppm":-41667,)"
      R"("duration_ns":100000000,"curve":"linear"})",
      R"({"ns":9,"seat":"tram","from":"link","event":"source","source":"device"})",
      R"({"ns":10,"seat":"tram","from":"link","event":"source","source":"recording"})",
      R"({"ns":11,"seat":"tram","from":"hand","holds":"power"})",
      R"({"ns":12,"seat":"tram","from":"hand","lets_go":"stick","part":"x"})",
      R"({"ns":1502000000,"seat":"tram","from":"panel","text":"512,300,1,0,0\n"})",
      "{\"ns\":1502000001,\"seat\":\"tram\",\"from\":\"panel\",\"text\":\"h\xc3\xa9 "
      R"(\"\\\t\u0001\n","late_us":120})",
      R"({"ns":1502000002,"seat":"crane \"2\"","from":"panel","hex":"00ff802061"})",
      R"({"ns":1502000003,"seat":"tram","from":"game","text":"255,0,0,90\n"})",
      R"({"ns":1502000004,"seat":"tram","from":"panel","output":"signal_red","number":-255})",
      R"({"ns":1502000004,"seat":"tram","from":"panel","output":"glow","part":"r","number":12})",
      R"({"ns":1502000005,"seat":"tram","from":"panel","note":"receive overrun","count":3})",
      R"({"ns":1502000006,"seat":"tram","from":"link","event":"taken","bytes":15})",
      R"({"ns":1502000007,"seat":"tram","from":"link","event":"slipped","by_ns":3000000000})",
      R"({"ns":1502000008,"seat":"tram","from":"link","event":"closed"})",
      R"({"ns":1502000008,"seat":"crane \"2\"","from":"file",)"
      "\"panel\":\"panel = \\\"Crane\\\"  # the \xc3\xbc box\\n\","
      R"("resolved":"panel = \"Crane\"\n"})",
      R"({"ns":1502000009,"from":"mark","text":"the lamp flickered here"})",
      R"({"ns":10000000000,"from":"check","fingerprint":"0123456789abcdef",)"
      R"("inputs":"0000000000000000"})",
      R"({"ns":10000000000,"from":"mark","ended":"complete"})",
  };
  ASSERT_EQ(std::size(lines), events.size());
  for (std::size_t i = 0; i < events.size(); ++i)
    EXPECT_EQ(written(events[i]), std::string(lines[i]) + "\n");
}

TEST(EventText, TheHeaderComesBackAsItWas) {
  const std::string line = header_line(sample_header());
  EXPECT_EQ(line.find('\n'), line.size() - 1);
  const Result<RecordingHeader> read = read_header(line);
  ASSERT_TRUE(read.ok()) << read.error().text;
  EXPECT_EQ(read.value(), sample_header());
}

// Reads a line both ways; the thorough way is the judge of the fast one.
void expect_read_alike(const std::string& line, const RecordedEvent& event) {
  const SeatNames seats(sample_header());
  const std::string_view inside = std::string_view(line).substr(0, line.size() - 1);
  EventRoom room;
  RecordedEvent thorough;
  const JsonLine judged = read_event(inside, seats, room, thorough);
  ASSERT_EQ(judged.kind, JsonLine::Kind::kEvent) << line << judged.problem;
  ASSERT_EQ(thorough, event) << line;
  EventRoom fast_room;
  RecordedEvent fast;
  if (scan_event(inside, seats, fast_room, fast)) {
    ASSERT_EQ(fast, event) << line;
  }
}

TEST(EventText, EveryKindComesBackBothWays) {
  for (const RecordedEvent& event : sample_events()) expect_read_alike(written(event), event);
}

TEST(EventText, TheFastWayKnowsEveryKindWithPlainNames) {
  const SeatNames seats(sample_header());
  for (const RecordedEvent& event : sample_events()) {
    const std::string line = written(event);
    EventRoom room;
    RecordedEvent fast;
    const bool plain_name = line.find("gr\xc3\xb6") == std::string::npos;
    EXPECT_EQ(scan_event(std::string_view(line).substr(0, line.size() - 1), seats, room, fast),
              plain_name)
        << line;
  }
}

// Bytes that are often text, often torn UTF-8, and sometimes anything.
std::string any_bytes() {
  static const std::string kPieces[] = {"512",
                                        ",",
                                        "\n",
                                        "\"",
                                        "\\",
                                        "\xc3\xa9",
                                        "\xc3",
                                        "\xff",
                                        std::string(1, '\0'),
                                        "\x7f",
                                        "\xf0\x9f\x9a\x8b",
                                        "/"};
  std::string bytes;
  for (const int piece : *rc::gen::container<std::vector<int>>(rc::gen::inRange(0, 13)))
    bytes += piece == 12 ? std::string(1, *rc::gen::arbitrary<char>()) : kPieces[piece];
  return bytes;
}

std::string any_text() {
  std::string bytes = any_bytes();
  return is_valid_utf8(bytes) ? bytes : printable(bytes);
}

std::int64_t any_number() {
  return *rc::gen::oneOf(rc::gen::inRange<std::int64_t>(-3, 2'000'000),
                         rc::gen::arbitrary<std::int64_t>(),
                         rc::gen::element(std::numeric_limits<std::int64_t>::min(),
                                          std::numeric_limits<std::int64_t>::max()));
}

What any_what(const std::string& bytes, const std::string& text) {
  const bool truth = *rc::gen::arbitrary<bool>();
  const std::int64_t number = any_number();
  const std::string_view part = truth ? std::string_view(text) : std::string_view();
  switch (*rc::gen::inRange(0, 15)) {
    case 0:
      return ToGame{bytes, number};
    case 1:
      return OutputSet{text, number, part};
    case 2:
      return Noted{static_cast<NoteKind>(*rc::gen::inRange(0, 9)), number};
    case 3:
      return FromGame{bytes};
    case 4:
      return HandMoved{text, number, Duration{any_number()},
                       static_cast<Curve>(*rc::gen::inRange(0, 3)), part};
    case 5:
      return LinkOpened{truth};
    case 6:
      return LinkClosed{};
    case 7:
      return LineSettings{number, truth ? 1 : 2};
    case 8:
      return ModemLines{truth, *rc::gen::arbitrary<bool>()};
    case 9:
      return Taken{number};
    case 10:
      return Slipped{Duration{number}};
    case 11:
      return Mark{text};
    case 12:
      return Check{*rc::gen::arbitrary<std::uint64_t>(), *rc::gen::arbitrary<std::uint64_t>()};
    case 13:
      return HandTurned{text, number, Duration{any_number()},
                        static_cast<Curve>(*rc::gen::inRange(0, 3)), part};
    default:
      return Ended{text};
  }
}

TEST(EventText, AnyEventComesBackBothWaysAndIsJsonOfOneLine) {
  EXPECT_TRUE(rc::check([] {
    const std::string bytes = any_bytes();
    const std::string text = any_text();
    RecordedEvent event;
    event.at.ns = *rc::gen::oneOf(rc::gen::inRange<std::int64_t>(0, 1'000'000'000'000),
                                  rc::gen::just(std::numeric_limits<std::int64_t>::max()));
    event.what = any_what(bytes, text);
    const bool whole = std::holds_alternative<Mark>(event.what) ||
                       std::holds_alternative<Check>(event.what) ||
                       std::holds_alternative<Ended>(event.what);
    event.seat = whole ? kWholeSession : static_cast<std::uint16_t>(*rc::gen::inRange(0, 2));
    const std::string line = written(event);
    // JSON Lines (jsonlines.org): each line is one valid JSON value, `\n` ends it, UTF-8.
    RC_ASSERT(line.find('\n') == line.size() - 1);
    RC_ASSERT(is_valid_utf8(line));
    RC_ASSERT(nlohmann::json::accept(line));
    expect_read_alike(line, event);
    RC_ASSERT(!testing::Test::HasFatalFailure());
  }));
}

// Whatever is done to a canonical line: where the fast way still reads it, the thorough way agrees.
TEST(EventText, TheFastWayReadsNothingThatTheThoroughWayReadsOtherwise) {
  const SeatNames seats(sample_header());
  EXPECT_TRUE(rc::check([&] {
    const std::vector<RecordedEvent> events = sample_events();
    std::string line = written(events[*rc::gen::inRange<std::size_t>(0, events.size())]);
    line.pop_back();
    for (int edits = *rc::gen::inRange(1, 4); edits > 0; --edits) {
      const auto place = *rc::gen::inRange<std::size_t>(0, line.size());
      static constexpr char kLikely[] = "0019\"\\u{}:,-. atru\x7f\xc3\xa9";
      const char c = kLikely[*rc::gen::inRange<std::size_t>(0, sizeof(kLikely) - 1)];
      switch (*rc::gen::inRange(0, 3)) {
        case 0:
          line[place] = c;
          break;
        case 1:
          line.insert(place, 1, c);
          break;
        default:
          line.erase(place, 1);
          break;
      }
    }
    EventRoom fast_room;
    RecordedEvent fast;
    if (!scan_event(line, seats, fast_room, fast)) return;
    EventRoom room;
    RecordedEvent thorough;
    const JsonLine judged = read_event(line, seats, room, thorough);
    RC_ASSERT(judged.kind == JsonLine::Kind::kEvent);
    RC_ASSERT(thorough == fast);
  }));
}

// The manual's examples are what the program writes, to the byte.
TEST(EventText, EveryExampleOfTheManualIsReadAndWrittenAlike) {
  std::ifstream manual(std::string(UNDERSTUDY_SOURCE_ROOT) + "/docs/recording.md");
  const SeatNames seats(sample_header());
  std::set<std::size_t> kinds;
  for (std::string line; std::getline(manual, line);) {
    if (!line.starts_with("    {\"ns\"")) continue;
    line.erase(0, 4);
    EventRoom room;
    RecordedEvent event;
    const JsonLine read = read_event(line, seats, room, event);
    ASSERT_EQ(read.kind, JsonLine::Kind::kEvent) << line << ": " << read.problem;
    EXPECT_EQ(written(event), line + "\n");
    kinds.insert(event.what.index());
  }
  EXPECT_EQ(kinds.size(), std::variant_size_v<What>) << "a kind of event has no example";
}

TEST(EventText, AnyOrderOfKeysAnySpacesAndUnknownKeysAreRead) {
  const SeatNames seats(sample_header());
  EventRoom room;
  RecordedEvent event;
  const JsonLine read = read_event(
      R"(  { "text" : "5\u00e9\/12\n" , "weather":{"wet":[true]}, "from":"game", "seat":"tram",)"
      R"( "ns": 77 } )"
      "\r",
      seats, room, event);
  ASSERT_EQ(read.kind, JsonLine::Kind::kEvent) << read.problem;
  EXPECT_EQ(event, (RecordedEvent{Instant{77}, 0, FromGame{"5\xc3\xa9/12\n"}}));
}

TEST(EventText, WhatIsWrongWithALineIsSaid) {
  const SeatNames seats(sample_header());
  const auto problem = [&](const char* line) {
    EventRoom room;
    RecordedEvent event;
    const JsonLine read = read_event(line, seats, room, event);
    EXPECT_EQ(read.kind, JsonLine::Kind::kBad) << line;
    return read.problem;
  };
  EXPECT_EQ(problem("512,300"), "this is not JSON: 512,300");
  EXPECT_EQ(problem(""), "this is not JSON: ");
  EXPECT_EQ(problem("[1]"), "this is not a JSON object: [1]");
  EXPECT_EQ(problem(R"({"from":"game"})"), "\"ns\" is missing");
  EXPECT_EQ(problem(R"({"ns":-1,"from":"game"})"),
            "\"ns\" is -1; it should be a whole number from 0 to 9223372036854775807");
  EXPECT_EQ(problem(R"({"ns":1.5,"from":"game"})"),
            "\"ns\" is 1.5; it should be a whole number from 0 to 9223372036854775807");
  EXPECT_EQ(problem(R"({"ns":9223372036854775808,"from":"game"})"),
            "\"ns\" is 9223372036854775808; it should be a whole number from 0 to "
            "9223372036854775807");
  EXPECT_EQ(problem(R"({"ns":1,"seat":"bus","from":"game","text":""})"),
            "the header has no seat \"bus\"");
  EXPECT_EQ(problem(R"({"ns":1,"seat":"tram","from":"game","hex":"0g"})"),
            "\"hex\" is \"0g\"; it should be pairs of hexadecimal digits");
  EXPECT_EQ(problem(R"({"ns":1,"seat":"tram","from":"game","hex":"012"})"),
            "\"hex\" is \"012\"; it should be pairs of hexadecimal digits");
  EXPECT_EQ(
      problem(
          R"({"ns":1,"seat":"tram","from":"link","event":"opened","dtr":1,"takes_at_once":false})"),
      "\"dtr\" is 1; it should be true or false");
  EXPECT_EQ(problem(R"({"ns":1,"from":"check","fingerprint":"12","inputs":"12"})"),
            "\"fingerprint\" is \"12\"; it should be sixteen hexadecimal digits");
  EXPECT_EQ(problem(R"({"ns":1,"seat":"tram","from":"hand","control":"bell","to_ppm":1,)"
                    R"("duration_ns":0,"curve":"wild"})"),
            "\"curve\" is \"wild\"; it should be \"at once\", \"linear\" or \"minimum jerk\"");
}

TEST(EventText, AWrongHeaderIsRefusedInWords) {
  const auto refusal = [](const char* line) {
    const Result<RecordingHeader> read = read_header(line);
    return read.ok() ? "no refusal" : read.error().text;
  };
  EXPECT_EQ(refusal("panel = \"X\""),
            "this is not a recording: its first line is not a header with \"format\"");
  EXPECT_EQ(refusal(R"({"format":1.0})"), "\"format\" is not two numbers such as \"1.0\"");
  EXPECT_EQ(refusal(R"({"format":"2.0"})"),
            "it is of format 2.0, and this program reads format 1; use a program of its time");
  EXPECT_EQ(refusal(R"({"format":"1.0","model":"x"})"),
            "line 1: \"model\" is \"x\"; it should be a whole number from 0 to 2147483647");
  EXPECT_EQ(refusal(R"({"format":"1.0","model":1,"seed":1,"start":"","program":""})"),
            "line 1: \"seats\" is missing or not a list");
  EXPECT_EQ(refusal(R"({"format":"1.0","model":1,"seed":1,"start":"","program":"","seats":[)"
                    R"({"name":"a","panel":"","resolved":"","whole_lines":false},)"
                    R"({"name":"a","panel":"","resolved":"","whole_lines":false}]})"),
            "line 1: two seats are called \"a\"");
}

}  // namespace
}  // namespace understudy
