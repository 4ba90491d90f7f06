// A recording as what moves a session: hands come at their recorded times, a part begins in the
// state it had, rounds begin alike.
#include "sim/record/replay.h"

#include <gtest/gtest.h>

#include <filesystem>

#include "sim/record/recorded_panel.h"
#include "sim/record/survey.h"
#include "tests/sim/record/recorded_session.h"

namespace understudy {
namespace {

// A recorded session that nobody watched, so that the same hands alone have to give it again.
struct Recorded {
  std::string file;
  RecordingHeader header;
  std::vector<SeatOptions> seats;
  Instant end;
  std::uint64_t fingerprint = 0;  // at the end
  std::vector<std::pair<Instant, std::string>> hands;
};

Recorded record_alone(const RehearsalOptions& options) {
  rehearse(options);
  auto reader = RecordingReader::open(options.name);
  CHECK(reader.ok(), "no recording");
  Recorded recorded{.file = options.name, .header = reader.value().header()};
  recorded.seats = recorded_seats(recorded.header).value();
  RecordedEvent event;
  while (reader.value().next(event) == RecordingReader::Got::kEvent) {
    recorded.end = event.at;
    if (const auto* check = std::get_if<recorded::Check>(&event.what))
      recorded.fingerprint = check->fingerprint;
    if (const auto* hand = std::get_if<recorded::HandMoved>(&event.what))
      recorded.hands.push_back({event.at, std::string(hand->control)});
  }
  return recorded;
}

ReplayPlan whole(const Recorded& recorded) {
  ReplayPlan plan{.path = recorded.file, .seats = {}, .from = {}, .to = recorded.end, .times = 1};
  for (std::size_t i = 0; i < recorded.seats.size(); ++i)
    plan.seats.push_back({.recorded = static_cast<std::uint16_t>(i), .other = nullptr});
  return plan;
}

std::unique_ptr<Replay> open(const ReplayPlan& plan) {
  auto replay = Replay::open(plan);
  CHECK(replay.ok(), replay.ok() ? "" : replay.error().text.c_str());
  return std::move(replay).value();
}

// Steps by uneven lengths, as a loop in real time does, and keeps what was taken.
struct Stage {
  Session session;
  SessionOutputs outputs;
  std::vector<SeatInput> taken;
  std::vector<std::pair<Instant, std::string>> out;  // of the first seat
  Stream steps{3, "steps"};

  Stage(const Recorded& recorded, const ReplayPlan& plan) : session(recorded.header.seed) {
    for (const ReplayedSeat& seat : plan.seats) {
      SeatOptions options = recorded.seats[seat.recorded];
      if (seat.other) options.panel = seat.other;
      session.add_seat(options);
    }
  }
  void step_to(Instant end, Replay& replay) {
    while (session.now() < end) {
      const Instant until = earlier(end, session.now() + nanoseconds(1 + steps.below(60'000'000)));
      std::vector<SeatInput> inputs;
      replay.take_due(until, inputs);
      session.step(until, inputs, outputs);
      taken.insert(taken.end(), inputs.begin(), inputs.end());
      for (const Chunk& chunk : outputs.seats[0].chunks)
        out.push_back({chunk.due, std::string(outputs.seats[0].bytes_of(chunk))});
    }
  }
};

std::vector<std::string> texts_of_reloads() {
  const std::string text = tram_panel()->text;
  return {text, text};
}

TEST(Replay, TheSameHandsGiveTheSameSessionAgain) {
  for (const std::uint64_t seed : {1, 2, 3}) {
    const Recorded recorded = record_alone({.seed = seed,
                                            .games = {Temper::kAbsent, Temper::kAbsent},
                                            .name = "alone.jsonl",
                                            .reloads = texts_of_reloads()});
    const ReplayPlan plan = whole(recorded);
    const auto replay = open(plan);
    Stage stage(recorded, plan);
    stage.step_to(recorded.end, *replay);
    EXPECT_EQ(stage.session.fingerprint(), recorded.fingerprint) << "seed " << seed;
    EXPECT_GT(recorded.hands.size(), 5u);
    EXPECT_EQ(replay->end(), recorded.end + kReplayGrace);
    std::filesystem::remove(recorded.file);
  }
}

TEST(Replay, APartBeginsInTheStateThatTheWholeHasThere) {
  const Recorded recorded =
      record_alone({.seed = 5, .games = {Temper::kAbsent}, .name = "part.jsonl"});
  ReplayPlan plan = whole(recorded);
  plan.from = Instant{seconds(6).ns};
  const auto replay = open(plan);
  EXPECT_EQ(replay->begin(), plan.from - nanoseconds(1));
  Stage stage(recorded, plan);
  stage.step_to(replay->begin(), *replay);
  replay->went_live(stage.session);
  stage.step_to(recorded.end, *replay);
  EXPECT_EQ(stage.session.fingerprint(), recorded.fingerprint);
  std::filesystem::remove(recorded.file);
}

TEST(Replay, RoundsHaveTheSameHandsAndBeginWithTheSamePlaces) {
  const Recorded recorded =
      record_alone({.seed = 6, .games = {Temper::kAbsent}, .name = "rounds.jsonl"});
  ReplayPlan plan = whole(recorded);
  plan.from = Instant{seconds(4).ns};
  plan.to = Instant{seconds(11).ns};
  plan.times = 3;
  const auto replay = open(plan);
  Stage stage(recorded, plan);
  stage.step_to(replay->begin(), *replay);
  replay->went_live(stage.session);
  const auto places = [&] {
    std::vector<std::int32_t> all;
    for (std::size_t i = 0; i < stage.session.panel(0).description.controls.size(); ++i)
      all.push_back(stage.session.device(0).goal_ppm(i));
    return all;
  };
  const std::vector<std::int32_t> at_begin = places();
  const Duration period = seconds(7) + kReplayPause;
  for (int round = 1; round < 3; ++round) {
    stage.step_to(replay->begin() + period * round, *replay);
    EXPECT_EQ(places(), at_begin) << "round " << round;
  }
  stage.step_to(replay->end(), *replay);
  EXPECT_EQ(replay->end(), plan.to + period * 2 + kReplayGrace);
  std::vector<Input> rounds[3];
  for (const SeatInput& input : stage.taken) {
    if (input.input.at < plan.from) continue;
    const std::int64_t round = (input.input.at - plan.from).ns / period.ns;
    Input shifted = input.input;
    shifted.at = shifted.at - period * round;
    if (shifted.at <= plan.to) rounds[round].push_back(shifted);  // else it is the way back
  }
  EXPECT_GT(rounds[0].size(), 3u);
  EXPECT_EQ(rounds[0], rounds[1]);
  EXPECT_EQ(rounds[0], rounds[2]);
  std::filesystem::remove(recorded.file);
}

TEST(Replay, AsBytesTheRecordedChunksComeAtTheirTimesInEachRound) {
  const Recorded recorded = record_alone({.seed = 6, .name = "bytes.jsonl"});
  std::vector<std::pair<Instant, std::string>> chunks;
  auto reader = RecordingReader::open(recorded.file);
  ASSERT_TRUE(reader.ok());
  RecordedEvent event;
  while (reader.value().next(event) == RecordingReader::Got::kEvent)
    if (const auto* chunk = std::get_if<recorded::ToGame>(&event.what))
      if (event.at >= Instant{seconds(4).ns} && event.at <= Instant{seconds(9).ns})
        chunks.push_back({event.at, std::string(chunk->bytes)});
  ReplayPlan plan = whole(recorded);
  plan.from = Instant{seconds(4).ns};
  plan.to = Instant{seconds(9).ns};
  plan.times = 2;
  plan.seats[0].as_bytes = true;
  const auto replay = open(plan);
  Recorded played = recorded;
  played.seats[0].source = SeatSource::kRecording;
  Stage stage(played, plan);
  stage.step_to(replay->begin(), *replay);
  EXPECT_TRUE(stage.out.empty());
  replay->went_live(stage.session);
  stage.step_to(replay->end(), *replay);
  EXPECT_GT(chunks.size(), 100u);
  std::vector<std::pair<Instant, std::string>> expected = chunks;
  for (const auto& [at, bytes] : chunks) expected.push_back({at + seconds(6), bytes});
  EXPECT_EQ(stage.out, expected);
  std::filesystem::remove(recorded.file);
}

TEST(Replay, OnAnotherPanelNamesDecideAndWhatIsNotThereIsCounted) {
  const Recorded recorded =
      record_alone({.seed = 8, .games = {Temper::kAbsent}, .name = "other.jsonl"});
  PanelDescription less = tram_panel()->description;
  const std::string gone = less.controls.front().name;
  less.controls.erase(less.controls.begin());
  less.lines_to_game.resize(1);
  less.lines_to_game[0] = LineDescription{.text = "{" + less.controls.front().name + "}"};
  less.answers.clear();
  const auto other = compile_panel(less);
  ASSERT_TRUE(other.ok()) << other.error().text;
  ReplayPlan plan = whole(recorded);
  plan.seats[0].other = other.value();
  const auto replay = open(plan);
  Stage stage(recorded, plan);
  stage.step_to(recorded.end, *replay);
  std::size_t left_out = 0;
  std::vector<std::pair<Instant, std::string>> expected;
  for (const auto& hand : recorded.hands) {
    if (hand.second == gone)
      ++left_out;
    else
      expected.push_back(hand);
  }
  std::vector<std::pair<Instant, std::string>> moved;
  for (const SeatInput& input : stage.taken)
    moved.push_back(
        {input.input.at, less.controls[std::get<HandAction>(input.input.what).control].name});
  EXPECT_EQ(moved, expected);
  EXPECT_EQ(replay->left_out(), static_cast<std::int64_t>(left_out));
  EXPECT_GT(left_out, 0u);
  std::filesystem::remove(recorded.file);
}

TEST(Replay, MarksComeAtTheirTimes) {
  const Recorded recorded = record_alone(
      {.seed = 9, .games = {Temper::kAbsent}, .length = seconds(3), .name = "marks.jsonl"});
  std::string text = bytes_of_file(recorded.file);
  const std::string mark = "{\"ns\":0,\"from\":\"mark\",\"text\":\"here\"}\n";
  text.insert(text.find('\n') + 1, mark);
  std::ofstream(recorded.file, std::ios::binary) << text;
  const ReplayPlan plan = whole(recorded);
  const auto replay = open(plan);
  Stage stage(recorded, plan);
  stage.step_to(Instant{milliseconds(500).ns}, *replay);
  const auto marks = replay->take_marks();
  ASSERT_EQ(marks.size(), 1u);
  EXPECT_EQ(marks[0].text, "here");
  EXPECT_EQ(marks[0].at, Instant{});
  EXPECT_TRUE(replay->take_marks().empty());
  std::filesystem::remove(recorded.file);
}

std::string surveyed(const std::string& text) {
  auto reader = RecordingReader::from_bytes(text, "x.jsonl");
  if (!reader.ok()) return reader.error().text;
  const auto found = survey(reader.value());
  return found.ok() ? "fine" : found.error().text;
}

TEST(Survey, NamesTheLineThatIsWrong) {
  const Recorded recorded = record_alone(
      {.seed = 9, .games = {Temper::kAbsent}, .length = seconds(3), .name = "survey.jsonl"});
  const std::string text = bytes_of_file(recorded.file);
  std::filesystem::remove(recorded.file);
  EXPECT_EQ(surveyed(text), "fine");
  EXPECT_EQ(surveyed(text.substr(0, text.size() - 5)), "fine");  // torn: is for the caller to tell
  const std::string header = text.substr(0, text.find('\n') + 1);
  const auto hand = [](const std::string& ns, const std::string& control) {
    return "{\"ns\":" + ns + ",\"seat\":\"tram\",\"from\":\"hand\",\"control\":\"" + control +
           "\",\"to_ppm\":0,\"duration_ns\":0,\"curve\":\"at once\"}\n";
  };
  EXPECT_EQ(surveyed(header + hand("5000", "bell") + hand("4000", "bell")),
            "line 3: its time is before that of the line above");
  EXPECT_EQ(surveyed(header + hand("5000", "siren")), "line 2: the panel has no control \"siren\"");
  EXPECT_NE(surveyed(header + hand("-5", "bell")), "fine");
  EXPECT_NE(surveyed(header + "junk\n"), "fine");
  EXPECT_NE(surveyed(""), "fine");
}

}  // namespace
}  // namespace understudy
