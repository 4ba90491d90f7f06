// Several seats under one clock: order at one instant, seats that don't feel each other, checks,
// players, and the split law once more.
#include "sim/session/session.h"

#include <gtest/gtest.h>
#include <rapidcheck.h>

#include <algorithm>

#include "tests/sim/device/device_bench.h"
#include "tests/sim/device/random_device.h"

namespace understudy {
namespace {

SeatInput seat_input(std::uint16_t seat, Instant t, decltype(Input::what) what) {
  return {seat, {t, std::move(what)}};
}

// What a session gave over many steps, put together.
struct Together {
  std::vector<StepOutputs> seats;
  std::vector<SeatInput> played;
  std::vector<FingerprintCheck> checks;

  void add(const SessionOutputs& step) {
    seats.resize(step.seats.size());
    for (std::size_t i = 0; i < seats.size(); ++i) {
      for (Chunk chunk : step.seats[i].chunks) {
        const std::size_t first = seats[i].bytes.size();
        seats[i].bytes += step.seats[i].bytes_of(chunk);
        chunk.first = first;
        seats[i].chunks.push_back(chunk);
      }
      seats[i].changes.insert(seats[i].changes.end(), step.seats[i].changes.begin(),
                              step.seats[i].changes.end());
      seats[i].notes.insert(seats[i].notes.end(), step.seats[i].notes.begin(),
                            step.seats[i].notes.end());
    }
    played.insert(played.end(), step.played.begin(), step.played.end());
    checks.insert(checks.end(), step.checks.begin(), step.checks.end());
  }
};

bool same(const Together& a, const Together& b) {
  if (a.played != b.played || a.checks != b.checks || a.seats.size() != b.seats.size())
    return false;
  for (std::size_t i = 0; i < a.seats.size(); ++i) {
    const auto same_chunk = [](const Chunk& x, const Chunk& y) {
      return x.due == y.due && x.first == y.first && x.size == y.size;
    };
    const auto same_change = [](const OutputChange& x, const OutputChange& y) {
      return x.due == y.due && x.output == y.output && x.number == y.number && x.part == y.part;
    };
    const auto same_note = [](const Note& x, const Note& y) {
      return x.due == y.due && x.kind == y.kind && x.count == y.count;
    };
    const StepOutputs& p = a.seats[i];
    const StepOutputs& q = b.seats[i];
    if (p.bytes != q.bytes || !std::ranges::equal(p.chunks, q.chunks, same_chunk) ||
        !std::ranges::equal(p.changes, q.changes, same_change) ||
        !std::ranges::equal(p.notes, q.notes, same_note))
      return false;
  }
  return true;
}

Together step_by_step(Session& session, std::span<const SeatInput> inputs,
                      const std::vector<Instant>& steps) {
  Together all;
  SessionOutputs outputs;
  for (const Instant t : steps) {
    std::size_t count = 0;
    while (count < inputs.size() && inputs[count].input.at <= t) ++count;
    session.step(t, inputs.first(count), outputs);
    inputs = inputs.subspan(count);
    all.add(outputs);
  }
  return all;
}

// Seats with everything on: players, observers, checks; over 25 s, so that two checks fall in.
TEST(Session, TheSplitLawHoldsForSeatsPlayersAndChecks) {
  EXPECT_TRUE(rc::check("sessions", [] {
    Session session(static_cast<std::uint64_t>(draw_between(1, 9)));
    const Instant end = at(seconds(25));
    std::vector<SeatInput> inputs;
    for (std::uint16_t seat = 0; seat < draw_between(1, 3); ++seat) {
      auto panel = draw_panel();
      RC_PRE(panel->description.manners.loop >= milliseconds(20));  // else the test takes minutes
      for (const Input& input : draw_inputs(panel, end, true)) inputs.push_back({seat, input});
      session.add_seat({.name = "seat-" + std::to_string(seat),
                        .panel = panel,
                        .whole_lines = false,
                        .play = draw_of<std::optional<PlayKind>>(
                            {std::nullopt, PlayKind::kWander, PlayKind::kSweep}),
                        .observed = draw_between(0, 1) == 1});
    }
    std::stable_sort(inputs.begin(), inputs.end(), [](const SeatInput& a, const SeatInput& b) {
      return a.input.at < b.input.at;
    });
    std::vector<Instant> steps = {at(seconds(10)), at(seconds(20))};
    for (int i = 0; i < 12; ++i) steps.push_back(Instant{draw_between(1, end.ns)});
    steps.push_back(end);
    std::sort(steps.begin(), steps.end());

    Session whole = session;
    const Together at_once = step_by_step(whole, inputs, {end});
    RC_ASSERT(at_once.checks.size() == 2U);
    const Together split = step_by_step(session, inputs, steps);
    RC_ASSERT(same(split, at_once));
    RC_ASSERT(session.fingerprint() == whole.fingerprint());
    RC_ASSERT(session.next_due() == whole.next_due());
  }));
}

constexpr std::string_view kDesk = R"(
panel = "Desk"
[board]
preset = "bootloader-8bit"
boot = "0 s"
boot_spread = "0 s"
[manners]
gather = "as it comes"
[host]
dtr = "restarts the board"
[[control]]
name = "bell"
kind = "button"
sends = [0, 1]
bounce = "none"
[[output]]
name = "lamp"
kind = "lamp"
)";

std::size_t add_desk(Session& session, const std::string& name,
                     std::optional<PlayKind> play = std::nullopt) {
  return session.add_seat({.name = name,
                           .panel = panel_of(kDesk),
                           .whole_lines = false,
                           .play = play,
                           .observed = true});
}

// Link events, then hands, then bytes, in whatever order they were handed in.
TEST(Session, AtOneInstantLinksGoBeforeHandsAndHandsBeforeBytes) {
  const Instant t = at_ms(100);
  const SeatInput open = seat_input(0, t, LinkOpened{.dtr = true, .takes_at_once = true});
  const SeatInput press = seat_input(0, t, HandAction{.control = 0, .to_ppm = kFullTravel});
  const SeatInput bytes = seat_input(0, t, BytesFromGame{"200\n"});
  std::vector<std::uint64_t> fingerprints;
  for (const auto& order : {std::vector{open, press, bytes}, std::vector{bytes, press, open},
                            std::vector{press, bytes, open}}) {
    Session session(1);
    add_desk(session, "desk");
    SessionOutputs outputs;
    session.step(at_ms(300), order, outputs);
    EXPECT_EQ(session.device(0).output_number(0), 200);  // not lost in the restart of the opening
    fingerprints.push_back(session.fingerprint());
  }
  EXPECT_EQ(fingerprints[0], fingerprints[1]);
  EXPECT_EQ(fingerprints[0], fingerprints[2]);
}

// However it is cut into reads and steps, beside lamp lines or alone.
TEST(Session, AWitnessLineNeverReachesTheBoardNorTheObserver) {
  const auto played = [](const std::vector<std::string>& pieces, bool one_instant) {
    Session session(1);
    add_desk(session, "desk");
    SessionOutputs outputs;
    std::vector<SeatInput> inputs = {seat_input(0, at_ms(1), LinkOpened{.dtr = true})};
    Instant t = at_ms(200);
    for (const std::string& piece : pieces) {
      inputs.push_back(seat_input(0, t, BytesFromGame{piece}));
      if (!one_instant) t = t + microseconds(10);
    }
    session.step(at_ms(400), inputs, outputs);
    EXPECT_EQ(session.device(0).output_number(0), 200);
    EXPECT_EQ(session.observer(0).traffic_to_panel().counts().unknown, 0);
    return session.fingerprint();
  };
  const std::uint64_t without = played({"200\n"}, false);
  EXPECT_EQ(played({"200\n#seen 7 0 on 9\n"}, false), without);
  EXPECT_EQ(played({"200\n", "#seen 7 0 on 9\n", "#seen 7 0", " on 9\n"}, false), without);
  EXPECT_EQ(played({"#se", "en 7 0 on 9\n2", "00\n"}, true), without);
}

TEST(Session, AWitnessLineThatHasBegunIsPartOfTheFingerprint) {
  std::vector<std::uint64_t> fingerprints;
  for (const char* said : {"200\n", "200\n#seen 7 0"}) {
    Session session(1);
    add_desk(session, "desk");
    SessionOutputs outputs;
    const std::vector inputs = {seat_input(0, at_ms(1), LinkOpened{.dtr = true}),
                                seat_input(0, at_ms(200), BytesFromGame{said})};
    session.step(at_ms(400), inputs, outputs);
    fingerprints.push_back(session.fingerprint());
  }
  EXPECT_NE(fingerprints[0], fingerprints[1]);
}

TEST(Session, ASeatGivesTheSameBytesWhoeverSitsBesideIt) {
  const auto bytes_of_left = [](bool with_right) {
    Session session(5);
    add_desk(session, "left", PlayKind::kWander);
    if (with_right) add_desk(session, "right", PlayKind::kWander);
    SessionOutputs outputs;
    const SeatInput open = seat_input(0, Instant{1}, LinkOpened{});
    session.step(at(seconds(30)), std::span(&open, 1), outputs);
    return outputs.seats[0].bytes;
  };
  const std::string alone = bytes_of_left(false);
  EXPECT_GT(alone.size(), 1'000U);
  EXPECT_EQ(alone, bytes_of_left(true));
}

// A recording holds what players did; a replay hands it in and has no players.
TEST(Session, AReplayOfWhatPlayersDidHasTheSameFingerprints) {
  for (const PlayKind kind : {PlayKind::kWander, PlayKind::kSweep}) {
    Session played(3);
    add_desk(played, "a", kind);
    add_desk(played, "b", kind);
    SessionOutputs outputs;
    played.step(at(seconds(60)), {}, outputs);
    ASSERT_GT(outputs.played.size(), 20U);

    Session replayed(3);
    add_desk(replayed, "a");
    add_desk(replayed, "b");
    SessionOutputs again;
    replayed.step(at(seconds(60)), outputs.played, again);
    EXPECT_TRUE(again.played.empty());
    EXPECT_EQ(again.checks, outputs.checks);
    EXPECT_EQ(replayed.fingerprint(), played.fingerprint());
  }
}

TEST(Session, ChecksComeEveryTenSecondsAndAreTheFingerprintOfThatInstant) {
  Session session(3);
  add_desk(session, "a", PlayKind::kSweep);
  Session other = session;
  SessionOutputs outputs;
  session.step(at(seconds(25)), {}, outputs);
  ASSERT_EQ(outputs.checks.size(), 2U);
  EXPECT_EQ(outputs.checks[0].at, at(seconds(10)));
  EXPECT_EQ(outputs.checks[1].at, at(seconds(20)));
  SessionOutputs until_ten;
  other.step(at(seconds(10)), {}, until_ten);
  EXPECT_EQ(other.fingerprint(), outputs.checks[0].fingerprint);
  EXPECT_NE(outputs.checks[0].fingerprint, outputs.checks[1].fingerprint);
}

TEST(Session, ASweepGoesThroughEveryControlAndAWanderTouchesAllOfThem) {
  for (const PlayKind kind : {PlayKind::kWander, PlayKind::kSweep}) {
    Session session(3);
    session.add_seat({.name = "tram",
                      .panel = tram_panel(),
                      .whole_lines = false,
                      .play = kind,
                      .observed = false});
    SessionOutputs outputs;
    session.step(at(seconds(120)), {}, outputs);
    for (std::uint16_t control = 0; control < 5; ++control)
      EXPECT_TRUE(std::ranges::any_of(outputs.played, [&](const SeatInput& played) {
        return std::get<HandAction>(played.input.what).control == control;
      })) << control;
  }
}

TEST(Session, AWanderingHandLetsEveryButtonGoAgain) {
  Session session(3);
  add_desk(session, "desk", PlayKind::kWander);
  SessionOutputs outputs;
  session.step(at(seconds(120)), {}, outputs);
  ASSERT_GT(outputs.played.size(), 10U);
  for (std::size_t i = 0; i < outputs.played.size(); ++i) {
    const auto& hand = std::get<HandAction>(outputs.played[i].input.what);
    EXPECT_EQ(hand.to_ppm, i % 2 == 0 ? kFullTravel : 0);
  }
}

TEST(Session, TheObserverSeesLinesAndAges) {
  Session session(1);
  add_desk(session, "desk");
  SessionOutputs outputs;
  const SeatInput open = seat_input(0, at_ms(10), LinkOpened{.dtr = true, .takes_at_once = false});
  session.step(at(seconds(3)), std::span(&open, 1), outputs);
  const Observer& observer = session.observer(0);
  EXPECT_TRUE(observer.connected());
  EXPECT_NEAR(observer.traffic_to_game().lines_per_second(session.now()), 50, 1);
  EXPECT_EQ(observer.traffic_to_game().counts().unknown, 0);
  EXPECT_EQ(observer.unread_bytes(), session.device(0).waiting_bytes());
  EXPECT_GE(observer.input_age(session.now()), milliseconds(2'900));
  const SeatInput taken =
      seat_input(0, session.now() + milliseconds(1), Taken{observer.unread_bytes()});
  session.step(session.now() + milliseconds(2), std::span(&taken, 1), outputs);
  EXPECT_LE(session.observer(0).input_age(session.now()), milliseconds(2));
}

}  // namespace
}  // namespace understudy
