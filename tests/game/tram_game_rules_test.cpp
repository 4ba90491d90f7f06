// Whole shifts, step by step with game time handed in: doors, stops, signals, lamps, the neutral
// brake, and one careful driver who proves that the line can be driven well.
#include "scenarios/tram/game/rules/shift.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "scenarios/tram/game/rules/lamps.h"

namespace understudy::tram {
namespace {

constexpr Controls kBrake{.power = 200};

// Drives a shift and speaks the driver's language.
class Bench {
 public:
  explicit Bench(std::uint64_t seed = 1) : shift(seed) {}

  void run(double seconds, const Controls& controls, bool driven = true) {
    const double until = shift.time_s() + seconds;
    while (shift.time_s() < until) shift.advance(controls, driven);
  }
  // Until `done` says so, for at most half an hour of game time.
  template <typename Done>
  void run_until(Done done, const Controls& controls) {
    const double limit = shift.time_s() + 1800.0;
    while (!done() && shift.time_s() < limit) shift.advance(controls, true);
    EXPECT_TRUE(done());
  }
  double front() const { return shift.motion().position_m; }
  void press_doors(Controls controls = kBrake) {
    controls.door_presses = 1;
    shift.advance(controls, true);
  }
  // Opens, lets everybody in and out, shuts.
  void serve() {
    press_doors();
    const std::size_t stop = shift.next_stop();
    run(4.0, kBrake);
    run_until([&] { return shift.waiting(stop) == 0; }, kBrake);
    press_doors();
    run(3.0, kBrake);
  }

  Shift shift;
};

// Looks ahead as a driver does: brakes for the mark, for lights that are not green and for limits;
// rings, sands when wheels slip, heats a little, waits for the time of departure.
class CarefulDriver {
 public:
  Controls look(const Shift& shift) {
    Controls controls{.power = handle(shift), .heater = shift.saloon().celsius < 20.0 ? 700 : 150};
    controls.bell = shift.people().in_the_way(shift.motion().position_m);
    controls.sander = shift.motion().slipping || rail_at(shift.motion().position_m) == Rail::leaves;
    if (shift.at_stop()) controls.door_presses = doors(shift);
    return controls;
  }

 private:
  int handle(const Shift& shift) {
    const double front = shift.motion().position_m;
    const double speed = shift.motion().speed_mps;
    if (shift.next_stop() >= kStops.size() || !shift.doors().shut()) return 200;
    const Stop& stop = kStops[shift.next_stop()];
    if (shift.at_stop()) {
      const bool leave = shift.records()[shift.next_stop()].served;
      return leave ? 800 : 200;
    }
    double room = stop.mark_m - front;
    const std::size_t signal = Signals::next_after(front);
    if (signal < kSignals.size()) {
      const double gap = kSignals[signal].at_m - 3.0 - front;
      if (gap > stopping_distance_m(speed, 1.1)) stops_for_ = signal;
      const Aspect aspect = shift.signals().aspect(signal, shift.time_s());
      if (aspect == Aspect::green)
        stops_for_ = kSignals.size();
      else if (stops_for_ == signal)
        room = std::min(room, gap);
    }
    const double slow = room > 0.0 ? std::sqrt(2.0 * 0.6 * room) : 0.0;
    double target = std::min(slow, speed_limit_mps(front));
    const double bend = kSlowStretch.from_m - front;
    if (bend > 0.0) {
      const double limit = speed_limit_mps(kSlowStretch.from_m);
      target = std::min(target, std::sqrt(limit * limit + 2.0 * 0.6 * bend));
    }
    return std::clamp(512 + static_cast<int>(420.0 * (target - speed)), 60, 900);
  }

  static int doors(const Shift& shift) {
    const StopRecord& record = shift.records()[shift.next_stop()];
    if (!record.served) return shift.doors().wished() ? 0 : 1;
    const Stop& stop = kStops[shift.next_stop()];
    const bool all = shift.waiting(shift.next_stop()) == 0;
    const bool time = shift.time_s() > stop.leaves_s - 2.0;
    return shift.doors().state() == DoorState::open && all && time ? 1 : 0;
  }

  std::size_t stops_for_ = kSignals.size();  // committed to stop at it until it turns green
};

Shift drive_the_line(std::uint64_t seed) {
  Shift shift(seed);
  CarefulDriver driver;
  while (!shift.finished() && shift.time_s() < 1200.0) shift.advance(driver.look(shift), true);
  return shift;
}

TEST(TramShift, ACarefulDriverEarnsMostOfThePointsWhateverTheSeed) {
  for (std::uint64_t seed = 1; seed <= 20; ++seed) {
    const Shift shift = drive_the_line(seed);
    ASSERT_TRUE(shift.finished()) << "seed " << seed;
    EXPECT_EQ(shift.tally().reds_passed, 0) << "seed " << seed;
    EXPECT_EQ(shift.tally().frights, 0) << "seed " << seed;
    for (const StopRecord& record : shift.records()) EXPECT_TRUE(record.served);
    EXPECT_GE(shift.points(), 480) << "seed " << seed;
  }
}

TEST(TramShift, SameSeedAndControlsGiveTheSameShift) {
  const Shift one = drive_the_line(7);
  const Shift two = drive_the_line(7);
  EXPECT_EQ(one.motion().position_m, two.motion().position_m);
  EXPECT_EQ(one.time_s(), two.time_s());
  EXPECT_EQ(one.points(), two.points());
  EXPECT_EQ(one.saloon().celsius, two.saloon().celsius);
}

TEST(TramShift, AnotherSeedChangesTheSignals) {
  const Shift one(1);
  const Shift two(2);
  bool differs = false;
  for (double time = 0.0; time < kCycle_s; time += 1.0) {
    differs |= one.signals().aspect(0, time) != two.signals().aspect(0, time);
  }
  EXPECT_TRUE(differs);
}

TEST(TramShift, EveryoneWhoWaitsBoardsWhileTheDoorsAreOpen) {
  Bench bench;
  bench.serve();
  EXPECT_EQ(bench.shift.passengers(), kStops[0].boarding);
  EXPECT_EQ(bench.shift.waiting(0), 0);
}

TEST(TramShift, WithOpenDoorsTheTramDoesNotDriveOff) {
  Bench bench;
  bench.press_doors();
  bench.run(10.0, {.power = 1023});
  EXPECT_EQ(bench.shift.motion().position_m, kStops[0].mark_m);
  EXPECT_EQ(bench.shift.note(), Note::doors_first);
}

TEST(TramShift, DoorsStayShutWhileTheTramMoves) {
  Bench bench;
  bench.run(6.0, {.power = 900});
  bench.press_doors({.power = 900});
  bench.run(5.0, {.power = 600});
  EXPECT_TRUE(bench.shift.doors().shut());
  EXPECT_TRUE(bench.shift.doors().wished());
}

// The panel file's promise: doors press -> door_lamp lit within 150 ms. In the rules it is at once.
TEST(TramShift, EachDoorsPressLightsTheDoorLampInTheSameStep) {
  Bench bench;
  for (int press = 0; press < 40; ++press) {
    bench.press_doors();
    EXPECT_GT(lamps_for(bench.shift).door_lamp, 0) << "press " << press;
    bench.run(0.7 + 0.1 * press, {.power = press % 2 == 0 ? 900 : 200});
  }
}

TEST(TramShift, NobodyAtTheDeskMeansACalmBrakeToAStand) {
  Bench bench;
  bench.serve();
  bench.run(12.0, {.power = 1000});
  const double speed = bench.shift.motion().speed_mps;
  ASSERT_GT(speed, 8.0);
  const double from = bench.shift.motion().position_m;
  bench.run(60.0, {.power = 1000}, false);
  EXPECT_EQ(bench.shift.motion().speed_mps, 0.0);
  // Half of the full service brake of 1.3 m/s2, helped by the running resistance.
  const double distance = bench.shift.motion().position_m - from;
  EXPECT_LE(distance, stopping_distance_m(speed, 0.65));
  EXPECT_GE(distance, stopping_distance_m(speed, 0.80));
}

TEST(TramShift, PassingARedSignalIsCountedOnce) {
  Bench bench;
  bench.serve();
  // Up to the first signal, wait there for red, then drive on.
  bench.run_until([&] { return bench.front() > kSignals[0].at_m - 60.0; }, {.power = 620});
  bench.run(15.0, {.power = 60});
  const auto red = [&] {
    return bench.shift.signals().aspect(0, bench.shift.time_s()) == Aspect::red;
  };
  bench.run_until([&] { return !red(); }, kBrake);
  bench.run_until(red, kBrake);
  ASSERT_LT(bench.front(), kSignals[0].at_m);
  bench.run(13.0, {.power = 1000});
  ASSERT_GT(bench.front(), kSignals[0].at_m);
  EXPECT_EQ(bench.shift.tally().reds_passed, 1);
}

TEST(TramShift, DrivingThroughAStopMissesIt) {
  Bench bench;
  bench.serve();
  bench.run_until([&] { return bench.front() > kStops[1].mark_m + 30.0; }, {.power = 800});
  EXPECT_TRUE(bench.shift.records()[1].missed);
  EXPECT_EQ(bench.shift.next_stop(), 2u);
}

TEST(TramShift, LeavingBeforeTimeIsNoted) {
  Bench bench;
  bench.serve();
  ASSERT_LT(bench.shift.time_s(), kStops[0].leaves_s - kEarly_s);
  bench.run(2.0, {.power = 800});
  EXPECT_TRUE(bench.shift.records()[0].left_early);
}

TEST(TramShift, ABellPressShorterThanAStepStillRings) {
  Bench bench;
  bench.shift.advance({.bell = false, .bell_presses = 1}, true);
  EXPECT_TRUE(bench.shift.bell());
}

TEST(TramShift, SandRunsOutOnlyWhileTheTramMoves) {
  Bench bench;
  bench.run(30.0, {.power = 200, .sander = true});
  EXPECT_EQ(bench.shift.sand_left(), 1.0);
  bench.run(10.0, {.power = 800, .sander = true});
  EXPECT_LT(bench.shift.sand_left(), 0.95);
}

TEST(TramShift, AfterTheEndOfTheLineTheTramStands) {
  Bench bench;
  bench.run_until([&] { return bench.shift.finished(); }, {.power = 700, .bell = true});
  bench.run(60.0, {.power = 1023});
  EXPECT_EQ(bench.shift.motion().speed_mps, 0.0);
  EXPECT_EQ(bench.shift.note(), Note::none);
}

TEST(TramLamps, ExactlyOneSignalLampIsLitAndItGrowsNearer) {
  Bench bench;
  int brightest = 0;
  while (bench.front() < kSignals[0].at_m - 5.0 && bench.shift.time_s() < 300.0) {
    bench.run(0.1, {.power = bench.shift.motion().speed_mps < 8.0 ? 800 : 512, .bell = true});
    const Lamps lamps = lamps_for(bench.shift);
    const int lit = (lamps.signal_red > 0) + (lamps.signal_amber > 0) + (lamps.signal_green > 0);
    ASSERT_EQ(lit, 1);
    const int level = lamps.signal_red + lamps.signal_amber + lamps.signal_green;
    EXPECT_GE(level, brightest);
    brightest = level;
  }
  EXPECT_EQ(brightest, kLampFull);
}

// Common practice, no source: light must not flash more than three times a second.
TEST(TramLamps, NoLampTurnsOnMoreThanThreeTimesInAnySecond) {
  Shift shift(3);
  CarefulDriver driver;
  Lamps before = lamps_for(shift);
  double last_on[3] = {-10.0, -10.0, -10.0};
  while (!shift.finished() && shift.time_s() < 1200.0) {
    shift.advance(driver.look(shift), true);
    const Lamps now = lamps_for(shift);
    if (now.door_lamp > 0 && before.door_lamp == 0) {
      EXPECT_GT(shift.time_s() - last_on[2], 1.0);
      last_on[2] = last_on[1];
      last_on[1] = last_on[0];
      last_on[0] = shift.time_s();
    }
    before = now;
  }
  EXPECT_GT(last_on[0], 0.0);
}

}  // namespace
}  // namespace understudy::tram
