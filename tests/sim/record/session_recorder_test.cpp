// What a recorder puts into the file for given steps: order, lateness, checks, the ending.
#include "sim/record/session_recorder.h"

#include <gtest/gtest.h>

#include "sim/model/kinds.h"
#include "sim/record/verify.h"
#include "tests/sim/record/recorded_session.h"
#include "tests/sim/record/samples.h"

namespace understudy {
namespace {

using namespace recorded;

// Two seats of the tram desk, made without a session: what a step gave is said by hand.
class SessionRecorderTest : public testing::Test {
 protected:
  SessionRecorderTest() {
    for (const char* name : {"left", "right"})
      seats_.push_back({.name = name, .panel = tram_panel(), .play = std::nullopt});
    outputs_.seats.resize(2);
    events_.emplace(seats_);
  }
  void chunk(std::size_t seat, std::int64_t due, std::string_view bytes) {
    StepOutputs& of_seat = outputs_.seats[seat];
    of_seat.chunks.push_back({Instant{due}, of_seat.bytes.size(), bytes.size()});
    of_seat.bytes += bytes;
  }
  OwnedEvents all(std::optional<Instant> taken_at) {
    OwnedEvents owned;
    events_->each_of(inputs_, outputs_, taken_at,
                     [&](const RecordedEvent& event) { owned.add(event); });
    return owned;
  }

  std::vector<SeatOptions> seats_;
  std::vector<SeatInput> inputs_;
  SessionOutputs outputs_;
  std::optional<SessionEvents> events_;
};

TEST_F(SessionRecorderTest, AtOneInstantInputsComeFirstAndTheCheckLast) {
  inputs_ = {{1, {Instant{5'000}, BytesFromGame{"1\n"}}}, {0, {Instant{5'000}, LinkClosed{}}}};
  outputs_.played = {{0, {Instant{5'000}, HandAction{.control = 2, .to_ppm = 1'000'000}}}};
  outputs_.checks = {{Instant{5'000}, 77}};
  outputs_.seats[1].notes = {{Instant{5'000}, NoteKind::kRestarted, 9}};
  outputs_.seats[1].changes = {{Instant{4'000}, 0, 255}, {Instant{5'000}, 3, 90}};
  chunk(1, 5'000, "b");
  chunk(0, 5'000, "a");
  chunk(0, 6'000, "c");
  const OwnedEvents owned = all(std::nullopt);
  const std::vector<RecordedEvent> expected = {
      {Instant{4'000}, 1, OutputSet{"signal_red", 255}},
      {Instant{5'000}, 1, FromGame{"1\n"}},
      {Instant{5'000}, 0, LinkClosed{}},
      {Instant{5'000}, 0, HandMoved{"bell", 1'000'000, Duration{0}, Curve::kAtOnce}},
      {Instant{5'000}, 1, OutputSet{"door_lamp", 90}},
      {Instant{5'000}, 0, ToGame{"a"}},
      {Instant{5'000}, 1, ToGame{"b"}},
      {Instant{5'000}, 1, Noted{NoteKind::kRestarted, 9}},
      {Instant{5'000}, kWholeSession, Check{77, 0}},
      {Instant{6'000}, 0, ToGame{"c"}},
  };
  EXPECT_EQ(owned.events, expected);
}

TEST_F(SessionRecorderTest, LatenessStandsThereFromFiftyMicrosecondsOn) {
  chunk(0, 1'000'000, "a");
  chunk(0, 1'000'999, "b");
  chunk(0, 1'001'000, "c");
  const OwnedEvents owned = all(Instant{1'051'000});
  ASSERT_EQ(owned.events.size(), 3U);
  EXPECT_EQ(std::get<ToGame>(owned.events[0].what).late_us, 51);
  EXPECT_EQ(std::get<ToGame>(owned.events[1].what).late_us, 50);
  EXPECT_EQ(std::get<ToGame>(owned.events[2].what).late_us, 50);
  EXPECT_EQ(std::get<ToGame>(all(Instant{1'050'000}).events[1].what).late_us, 0);
  EXPECT_EQ(std::get<ToGame>(all(std::nullopt).events[0].what).late_us, 0);
}

TEST_F(SessionRecorderTest, EveryInputComesBackFromItsEvent) {
  inputs_ = {{0, {Instant{1}, LinkOpened{.dtr = false}}},
             {1, {Instant{2}, LineSettings{9'600, 2}}},
             {0, {Instant{3}, ModemLines{true, false}}},
             {0, {Instant{4}, Taken{15}}},
             {1, {Instant{5}, Slipped{seconds(3)}}},
             {1,
              {Instant{6}, HandAction{.control = 1,
                                      .to_ppm = 400'000,
                                      .duration = seconds(1),
                                      .curve = Curve::kMinimumJerk}}},
             {0, {Instant{7}, BytesFromGame{std::string("\x00\xff\n", 3)}}},
             {0, {Instant{8}, LinkClosed{}}}};
  const OwnedEvents owned = all(std::nullopt);
  ASSERT_EQ(owned.events.size(), inputs_.size());
  for (std::size_t i = 0; i < inputs_.size(); ++i) {
    EXPECT_TRUE(is_input(owned.events[i].what));
    const Result<SeatInput> input = events_->input_of(owned.events[i]);
    ASSERT_TRUE(input.ok()) << input.error().text;
    EXPECT_EQ(input.value(), inputs_[i]);
  }
}

// Of every part that a hand moves, one movement; and every part of an output, set once.
TEST(SessionRecorder, EveryPartOfEveryKindComesBackFromItsEvent) {
  auto panel = std::make_shared<Panel>();
  for (int kind = 0; kind <= static_cast<int>(ControlKind::kSensor); ++kind) {
    ControlDescription control;
    control.kind = static_cast<ControlKind>(kind);
    control.name = std::string(kind_word(control.kind));
    panel->description.controls.push_back(control);
  }
  for (int kind = 0; kind <= static_cast<int>(OutputKind::kDigits); ++kind) {
    OutputDescription output;
    output.kind = static_cast<OutputKind>(kind);
    output.name = std::string(kind_word(output.kind));
    panel->description.outputs.push_back(output);
  }
  const std::vector<SeatOptions> seats{{.name = "desk", .panel = panel, .play = std::nullopt}};
  SessionEvents events(seats);
  std::vector<SeatInput> inputs;
  SessionOutputs outputs;
  outputs.seats.resize(1);
  const auto& controls = panel->description.controls;
  for (std::uint16_t i = 0; i < controls.size(); ++i)
    for (std::uint8_t part = 0; part < hand_parts(controls[i]).size(); ++part)
      inputs.push_back({0,
                        {Instant{static_cast<std::int64_t>(inputs.size()) + 1},
                         HandAction{.control = i, .part = part, .to_ppm = 250'000 + part}}});
  for (std::uint16_t i = 0; i < panel->description.outputs.size(); ++i)
    for (std::uint8_t part = 0; part < line_parts(panel->description.outputs[i]).size(); ++part)
      outputs.seats[0].changes.push_back({Instant{1'000}, i, 40 + part, part});
  OwnedEvents owned;
  events.each_of(inputs, outputs, std::nullopt,
                 [&](const RecordedEvent& event) { owned.add(event); });
  ASSERT_EQ(inputs.size(), 8U);  // a stick has three
  ASSERT_EQ(owned.events.size(), inputs.size() + 7U);
  for (std::size_t i = 0; i < inputs.size(); ++i) {
    const Result<SeatInput> input = events.input_of(owned.events[i]);
    ASSERT_TRUE(input.ok()) << input.error().text;
    EXPECT_EQ(input.value(), inputs[i]);
  }
  EXPECT_EQ(owned.events[5].what, What(HandMoved{"stick", 250'001, {}, Curve::kAtOnce, "y"}));
  EXPECT_EQ(owned.events[7].what, What(HandTurned{"encoder", 250'000, {}, Curve::kAtOnce}));
  EXPECT_EQ(owned.events[10].what, What(OutputSet{"rgb", 41, "g"}));
}

TEST(SessionRecorder, AFileBeginsWithTheWholePanelAndEndsWithACheckAndAnEnding) {
  rehearse({.length = seconds(12), .name = "whole.jsonl"});
  Result<RecordingReader> reader = RecordingReader::open("whole.jsonl");
  ASSERT_TRUE(reader.ok()) << reader.error().text;
  const RecordingHeader& header = reader.value().header();
  EXPECT_EQ(header.seed, 7U);
  EXPECT_EQ(header.start, "2026-03-01T19:30:00Z");
  ASSERT_EQ(header.seats.size(), 1U);
  EXPECT_EQ(header.seats[0].panel,
            bytes_of_file(std::string(UNDERSTUDY_SOURCE_ROOT) + "/scenarios/tram/tram.panel.toml"));
  EXPECT_EQ(header.seats[0].resolved, resolved_toml(tram_panel()->description));
  EXPECT_EQ(header.seats[0].links, std::vector<std::string>{"pty"});

  const ReadAll all(reader.value());
  EXPECT_TRUE(all.problems.empty());
  const auto& events = all.owned.events;
  for (std::size_t i = 1; i < events.size(); ++i) ASSERT_GE(events[i].at, events[i - 1].at);
  std::vector<Instant> checks;
  for (const RecordedEvent& event : events)
    if (std::holds_alternative<Check>(event.what)) checks.push_back(event.at);
  EXPECT_EQ(checks, (std::vector<Instant>{{seconds(10).ns}, {seconds(12).ns}}));
  EXPECT_EQ(events.back().what, What{Ended{kEndedComplete}});
  std::filesystem::remove("whole.jsonl");
}

TEST(SessionRecorder, AnEndOnTheBeatOfChecksHasOneCheckThere) {
  rehearse({.length = seconds(10), .name = "beat.jsonl"});
  const std::string text = bytes_of_file("beat.jsonl");
  std::size_t checks = 0;
  for (std::size_t at = 0; (at = text.find("\"from\":\"check\"", at)) != std::string::npos; ++at)
    ++checks;
  EXPECT_EQ(checks, 1U);
  std::filesystem::remove("beat.jsonl");
}

TEST(SessionRecorderMarks, StandBehindWhatIsAtTheirTimeAndTheRecordingVerifies) {
  const SeatOptions seat{.name = "tram", .panel = tram_panel(), .play = PlayKind::kSweep};
  Session session(3);
  session.add_seat(seat);
  auto recorder = SessionRecorder::begin(
      {.file = {.path = "marked.jsonl", .force = true, .when_full = WhenRingFull::kWaits},
       .seed = 3,
       .seats = {&seat, 1}});
  ASSERT_TRUE(recorder.ok());
  SessionOutputs outputs;
  const Instant marks[] = {Instant{milliseconds(1'000).ns}, Instant{milliseconds(2'500).ns}};
  recorder.value()->mark(marks[0], "first");
  recorder.value()->mark(marks[1], "no \xff UTF-8");
  for (const Duration until : {seconds(2), seconds(4)}) {
    session.step(Instant{until.ns}, {}, outputs);
    recorder.value()->step({}, outputs, std::nullopt);
  }
  ASSERT_TRUE(recorder.value()->end(session).ok());
  auto reader = RecordingReader::open("marked.jsonl");
  ASSERT_TRUE(reader.ok());
  std::vector<std::string> texts;
  RecordedEvent event;
  Instant last;
  while (reader.value().next(event) == RecordingReader::Got::kEvent) {
    EXPECT_GE(event.at, last);
    last = event.at;
    const auto* mark = std::get_if<Mark>(&event.what);
    if (mark == nullptr) continue;
    EXPECT_EQ(event.at, marks[texts.size()]);
    texts.emplace_back(mark->text);
  }
  EXPECT_EQ(texts, (std::vector<std::string>{"first", "no \\xff UTF-8"}));
  auto again = RecordingReader::open("marked.jsonl");
  ASSERT_TRUE(again.ok());
  const auto report = verify(again.value());
  EXPECT_TRUE(report.ok() && report.value().holds());
  std::filesystem::remove("marked.jsonl");
}

}  // namespace
}  // namespace understudy
