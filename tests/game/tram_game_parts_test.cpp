// The small parts of the game's rules, each alone: handle, doors, signals, saloon, people, score,
// outputs, weather.
#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "scenarios/tram/game/rules/chance.h"
#include "scenarios/tram/game/rules/doors.h"
#include "scenarios/tram/game/rules/handle.h"
#include "scenarios/tram/game/rules/outputs.h"
#include "scenarios/tram/game/rules/people.h"
#include "scenarios/tram/game/rules/saloon.h"
#include "scenarios/tram/game/rules/score.h"
#include "scenarios/tram/game/rules/shift.h"
#include "scenarios/tram/game/rules/signals.h"
#include "scenarios/tram/game/rules/weather.h"

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

TEST(TramScore, APerfectStopIsWorthAHundredInFourParts) {
  const StopRecord perfect{.served = true, .warm = true};
  const StopPoints points = points_for(perfect);
  EXPECT_EQ(points.mark, 30);
  EXPECT_EQ(points.time, 30);
  EXPECT_EQ(points.warmth, 20);
  EXPECT_EQ(points.everybody, 20);
  EXPECT_EQ(points.sum(), 100);
  EXPECT_EQ(points_for(StopRecord{}).sum(), 0);
}

TEST(TramScore, EachFlawCostsItsOwnPartAlone) {
  const StopRecord perfect{.served = true, .warm = true};
  StopRecord flawed = perfect;
  flawed.mark_error_m = -4.0;
  EXPECT_LT(points_for(flawed).mark, 30);
  EXPECT_EQ(points_for(flawed).sum(), 70 + points_for(flawed).mark);
  flawed = perfect;
  flawed.late_s = 50.0;
  EXPECT_EQ(points_for(flawed).time, 15);  // half way from 10 s to 90 s
  EXPECT_EQ(points_for(flawed).sum(), 85);
  flawed = perfect;
  flawed.left_early = true;
  EXPECT_EQ(points_for(flawed).sum(), 70);
  flawed = perfect;
  flawed.left_behind = 100;
  EXPECT_EQ(points_for(flawed).sum(), 80);
}

TEST(TramScore, WhatTheWayCostsIsPricedItemByItemAndNothingGoesBelowZero) {
  const Deductions cost = deductions_for(
      {.reds_passed = 1, .frights = 2, .rail_brake_uses = 3, .too_fast_s = 4.0, .slipping_s = 5.0});
  EXPECT_EQ(cost.reds, 40);
  EXPECT_EQ(cost.frights, 50);
  EXPECT_EQ(cost.rail_brake, 30);
  EXPECT_EQ(cost.too_fast, 8);
  EXPECT_EQ(cost.slipping, 5);
  EXPECT_EQ(cost.sum(), 133);
  EXPECT_EQ(points_for(StopRecords{}, {.reds_passed = 3}), 0);
}

TEST(TramOutputs, TheDigitsAreMinutesAndSeconds) {
  EXPECT_EQ(minutes_and_seconds(90.0), 130);
  EXPECT_EQ(minutes_and_seconds(89.2), 130);
  EXPECT_EQ(minutes_and_seconds(59.5), 100);
  EXPECT_EQ(minutes_and_seconds(59.0), 59);
  EXPECT_EQ(minutes_and_seconds(0.0), 0);
  EXPECT_EQ(minutes_and_seconds(-5.0), 0);
  EXPECT_EQ(minutes_and_seconds(1e9), 9959);
}

TEST(TramOutputs, TheDigitsCountDownToTheDepartureAndStandAtNoughtWhenItIsLate) {
  Shift shift(1);
  EXPECT_EQ(outputs_for(shift).timetable, minutes_and_seconds(kStops[0].leaves_s));
  for (int before = outputs_for(shift).timetable; shift.time_s() < 2.0 * kStops[0].leaves_s;) {
    shift.advance({.power = 200}, true);
    EXPECT_LE(outputs_for(shift).timetable, before);
    before = outputs_for(shift).timetable;
  }
  EXPECT_EQ(outputs_for(shift).timetable, 0);
}

TEST(TramOutputs, TheGaugeShowsWholeKilometresAnHourAndStopsAtSixty) {
  Shift shift(1, Forecast(Sky::clear));
  int most = 0;
  for (int step = 0; step < 120 * 40; ++step) {
    shift.advance({.power = 1023, .bell = true}, true);
    const int gauge = outputs_for(shift).speed_gauge;
    EXPECT_NEAR(gauge, std::min(60.0, shift.motion().speed_mps * 3.6), 0.51);
    most = std::max(most, gauge);
  }
  EXPECT_EQ(most, 60);
}

TEST(TramWeather, EveryShiftSeesEverySkyAndBeginsInOneThatIsKindToLearners) {
  for (std::uint64_t seed = 1; seed <= 30; ++seed) {
    const Forecast forecast(seed);
    std::array<bool, kSkyCount> seen{};
    for (double time_s = 0.0; time_s < kStops.back().leaves_s; time_s += 1.0) {
      seen[static_cast<std::size_t>(forecast.at(time_s).sky)] = true;
    }
    const Sky first = forecast.at(0.0).sky;
    EXPECT_TRUE(first == Sky::clear || first == Sky::rain) << seed;
    EXPECT_GE(std::count(seen.begin(), seen.end(), true), 4) << seed;
  }
}

TEST(TramWeather, NothingInItJumps) {
  const Forecast forecast(5);
  Weather before = forecast.at(0.0);
  for (double time_s = 0.1; time_s < 1500.0; time_s += 0.1) {
    const Weather now = forecast.at(time_s);
    for (const auto part : {&Weather::rain, &Weather::fog, &Weather::snow, &Weather::wet}) {
      EXPECT_LE(std::abs(now.*part - before.*part), 0.1 / kSkyComes_s + 1e-9) << time_s;
    }
    before = now;
  }
}

TEST(TramWeather, SameSeedSameWeatherAnotherSeedAnother) {
  bool differs = false;
  for (double time_s = 0.0; time_s < 600.0; time_s += 7.0) {
    EXPECT_EQ(Forecast(3).at(time_s).rain, Forecast(3).at(time_s).rain);
    differs = differs || Forecast(3).at(time_s).sky != Forecast(4).at(time_s).sky ||
              Forecast(3).at(time_s).rain != Forecast(4).at(time_s).rain;
  }
  EXPECT_TRUE(differs);
}

TEST(TramWeather, TheRoadStaysWetAfterTheRainAndTheViaductKeepsItDry) {
  const Forecast rain(Sky::rain);
  EXPECT_EQ(rail_under(rain.at(0.0)), Rail::wet);
  EXPECT_EQ(rail_under(Forecast(Sky::clear).at(0.0)), Rail::dry);
  EXPECT_EQ(rail_under(Forecast(Sky::snow).at(0.0)), Rail::snow);
  EXPECT_EQ(rail_at(600.0, Rail::snow), Rail::dry);
  EXPECT_EQ(rail_at(1100.0, Rail::dry), Rail::leaves);
  EXPECT_EQ(rail_under({.sky = Sky::clear, .rain = 0.0, .wet = 0.8}), Rail::wet);
}

TEST(TramChance, OneSeedGivesOneSeries) {
  // First outputs of SplitMix64 from seed 0, as in the published reference code (from memory).
  Chance chance(0);
  EXPECT_EQ(chance.next(), 0xe220a8397b1dcdafu);
  EXPECT_EQ(chance.next(), 0x6e789e6aa1b965f4u);
}

}  // namespace
}  // namespace understudy::tram
