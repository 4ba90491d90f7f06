// The small parts of the game's rules, each alone: handle, doors, signals, saloon, people, score.
#include <gtest/gtest.h>

#include <cmath>

#include "scenarios/tram/game/rules/chance.h"
#include "scenarios/tram/game/rules/doors.h"
#include "scenarios/tram/game/rules/handle.h"
#include "scenarios/tram/game/rules/people.h"
#include "scenarios/tram/game/rules/saloon.h"
#include "scenarios/tram/game/rules/score.h"
#include "scenarios/tram/game/rules/signals.h"

namespace understudy::tram {
namespace {

TEST(TramHandle, TheMiddleCoastsEvenWhenThePotIsOffCentre) {
  for (int number = 472; number <= 552; ++number) {
    const Demand demand = read_handle(number);
    EXPECT_EQ(demand.power, 0.0) << number;
    EXPECT_EQ(demand.brake, 0.0) << number;
  }
}

TEST(TramHandle, FullEffortIsReachedBeforeTheEndsOfThePot) {
  EXPECT_DOUBLE_EQ(read_handle(1003).power, 1.0);
  EXPECT_DOUBLE_EQ(read_handle(1023).power, 1.0);
  EXPECT_DOUBLE_EQ(read_handle(40).brake, 1.0);
  EXPECT_FALSE(read_handle(40).rail_brake);
  EXPECT_TRUE(read_handle(10).rail_brake);
}

TEST(TramHandle, ASweepUpwardsNeverTakesPowerAwayNorAddsBrake) {
  for (int number = 1; number <= 1023; ++number) {
    EXPECT_GE(read_handle(number).power, read_handle(number - 1).power);
    EXPECT_LE(read_handle(number).brake, read_handle(number - 1).brake);
  }
}

TEST(TramHandle, NumbersThatNoPotSendsCountAsTheNearerEnd) {
  EXPECT_DOUBLE_EQ(read_handle(2147483647).power, 1.0);
  EXPECT_DOUBLE_EQ(read_handle(-2147483647).brake, 1.0);
}

void run(Doors& doors, double seconds, bool may_open) {
  for (double done = 0.0; done < seconds; done += 0.01) doors.advance(0.01, 0, may_open);
}

TEST(TramDoors, APressAtAStopOpensAndTheNextOneShuts) {
  Doors doors;
  doors.advance(0.01, 1, true);
  EXPECT_EQ(doors.state(), DoorState::opening);
  run(doors, 3.0, true);
  EXPECT_EQ(doors.state(), DoorState::open);
  doors.advance(0.01, 1, true);
  EXPECT_EQ(doors.state(), DoorState::closing);
  run(doors, 3.0, true);
  EXPECT_TRUE(doors.shut());
  EXPECT_FALSE(doors.wished());
}

TEST(TramDoors, APressOnTheWayIsAWishThatTheNextStopFulfils) {
  Doors doors;
  doors.advance(0.01, 1, false);
  EXPECT_TRUE(doors.wished());
  run(doors, 5.0, false);
  EXPECT_TRUE(doors.shut());
  doors.advance(0.01, 0, true);
  EXPECT_EQ(doors.state(), DoorState::opening);
}

TEST(TramDoors, AWishIsForgottenAfterItsTime) {
  Doors doors;
  doors.advance(0.01, 1, false);
  run(doors, kWishLasts_s + 0.1, false);
  EXPECT_FALSE(doors.wished());
}

TEST(TramDoors, APressWhileClosingOpensAgain) {
  Doors doors;
  doors.advance(0.01, 1, true);
  run(doors, 4.0, true);
  doors.advance(0.01, 1, true);
  run(doors, 0.5, true);
  doors.advance(0.01, 1, true);
  EXPECT_EQ(doors.state(), DoorState::opening);
}

TEST(TramSignals, TheCycleGoesGreenAmberRedAndRoundAgain) {
  EXPECT_EQ(aspect_at_phase(0.0), Aspect::green);
  EXPECT_EQ(aspect_at_phase(kGreen_s), Aspect::amber);
  EXPECT_EQ(aspect_at_phase(kGreen_s + kAmber_s), Aspect::red);
  EXPECT_EQ(aspect_at_phase(kCycle_s), Aspect::green);
  EXPECT_EQ(aspect_at_phase(-1.0), Aspect::red);
}

// Stopping from the limit at half the full brake plus a second and a half to react must fit into
// amber, or a red could not be avoided fairly: v t_amber >= v 1.5 s + v^2 / 2a.
TEST(TramSignals, WhoeverCannotStopCalmlyBeforeRedStillPassesAtAmber) {
  const double speed = 50.0 / 3.6;
  EXPECT_GE(speed * kAmber_s, speed * 1.5 + speed * speed / (2.0 * 1.1));
}

// In balance the heat that comes in equals what is lost: T = T_night + P / loss.
TEST(TramSaloon, SettlesWhereGainEqualsLoss) {
  Saloon saloon;
  for (int step = 0; step < 60 * 3600; ++step) {
    saloon.advance(1.0 / 60.0, {.heater_share = 0.5, .people = 10});
  }
  const double expected = kNight_celsius + (0.5 * kHeater_watt_max + 1000.0) / 1500.0;
  EXPECT_NEAR(saloon.celsius, expected, 0.01);
}

TEST(TramSaloon, OpenDoorsLetTheWarmthOut) {
  Saloon shut{.celsius = 20.0};
  Saloon open{.celsius = 20.0};
  for (int step = 0; step < 1200; ++step) {
    shut.advance(1.0 / 60.0, {});
    open.advance(1.0 / 60.0, {.doors_share = 1.0});
  }
  EXPECT_GT(shut.celsius, open.celsius + 1.0);
}

TEST(TramPeople, TheBellClearsTheTrackAndNobodyTakesFright) {
  People people(1);
  const double near_m = people.at_m(0) - 80.0;
  EXPECT_EQ(people.advance(0.01, {.front_m = near_m, .speed_mps = 10.0}), 0);
  EXPECT_EQ(people.state(0), Walker::on_track);
  EXPECT_TRUE(people.in_the_way(near_m));
  for (int step = 0; step < 200; ++step) {
    people.advance(0.01, {.front_m = near_m, .speed_mps = 10.0, .bell = step == 0});
  }
  EXPECT_EQ(people.state(0), Walker::gone);
  EXPECT_EQ(people.advance(0.01, {.front_m = people.at_m(0), .speed_mps = 10.0}), 0);
}

TEST(TramPeople, WithoutABellSomebodyTakesFrightOnceAndStepsAside) {
  People people(1);
  int frights = 0;
  for (double front = people.at_m(0) - 80.0; front < people.at_m(0) + 10.0; front += 0.1) {
    frights += people.advance(0.01, {.front_m = front, .speed_mps = 10.0});
  }
  EXPECT_EQ(frights, 1);
  EXPECT_NE(people.state(0), Walker::on_track);
}

TEST(TramPeople, ABellFarAwayIsNotHeard) {
  People people(1);
  people.advance(0.01, {.front_m = people.at_m(0) - 120.0, .speed_mps = 10.0, .bell = true});
  EXPECT_EQ(people.state(0), Walker::on_track);
}

TEST(TramPeople, BeforeATramThatWaitsEverybodyMovesOnInTheEnd) {
  People people(1);
  const double front = people.at_m(0) - 10.0;
  for (int step = 0; step < 600; ++step) people.advance(0.01, {.front_m = front});
  EXPECT_EQ(people.state(0), Walker::gone);
}

TEST(TramScore, APerfectStopIsWorthAHundred) {
  const StopRecord perfect{.served = true, .warm = true};
  EXPECT_EQ(points_for(perfect), 100);
  EXPECT_EQ(points_for(StopRecord{}), 0);
}

TEST(TramScore, EachFlawCostsAndNothingGoesBelowZero) {
  const StopRecord perfect{.served = true, .warm = true};
  StopRecord flawed = perfect;
  flawed.mark_error_m = -4.0;
  EXPECT_LT(points_for(flawed), 100);
  flawed = perfect;
  flawed.late_s = 50.0;
  EXPECT_EQ(points_for(flawed), 85);  // half of the thirty for time
  flawed = perfect;
  flawed.left_early = true;
  EXPECT_EQ(points_for(flawed), 70);
  flawed = perfect;
  flawed.left_behind = 100;
  EXPECT_EQ(points_for(flawed), 80);
  EXPECT_EQ(points_for(StopRecords{}, {.reds_passed = 3}), 0);
}

TEST(TramChance, OneSeedGivesOneSeries) {
  // First outputs of SplitMix64 from seed 0, as in the published reference code (from memory).
  Chance chance(0);
  EXPECT_EQ(chance.next(), 0xe220a8397b1dcdafu);
  EXPECT_EQ(chance.next(), 0x6e789e6aa1b965f4u);
}

}  // namespace
}  // namespace understudy::tram
