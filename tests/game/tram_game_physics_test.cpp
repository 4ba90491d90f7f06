// The tram's motion against closed forms of mechanics and published adhesion values.
// What stops, signals and doors do with it is in tram_game_rules_test.cpp.
#include "scenarios/tram/game/rules/physics.h"

#include <gtest/gtest.h>

#include <cmath>

namespace understudy::tram {
namespace {

constexpr double kFifty_mps = 50.0 / 3.6;

TramSpec without_resistance() {
  TramSpec spec;
  spec.resistance_newton = spec.resistance_per_mps = spec.resistance_per_mps2 = 0.0;
  return spec;
}

Motion rolling_at(double speed_mps) {
  return {.speed_mps = speed_mps, .wheel_mps = speed_mps};
}

// Advances until the tram stands, for at most ten minutes; returns the seconds it took.
double run_to_stand(Motion& motion, const TramSpec& spec, const MotionInputs& inputs) {
  int steps = 0;
  while (motion.speed_mps > 0.0 && steps < 240 * 600) {
    motion.advance(spec, inputs);
    ++steps;
  }
  return steps * kStepSeconds;
}

// Distance to slide to a stand with locked wheels, integrating v dv / (share(v) mu g) by Simpson's
// rule: the same law by a second road, in speed instead of time.
double locked_distance_m(double from_mps, double adhesion) {
  const auto integrand = [&](double v) { return v / (creep_share(v) * adhesion * kGravity); };
  constexpr int kParts = 20000;
  const double part = (from_mps - 1e-6) / kParts;
  double sum = integrand(1e-6) + integrand(from_mps);
  for (int i = 1; i < kParts; ++i) sum += integrand(1e-6 + part * i) * (i % 2 == 1 ? 4.0 : 2.0);
  return sum * part / 3.0;
}

// Curtius and Kniffler (1950), mu = 7.5 / (v + 44) + 0.161 with v in km/h, worked out by hand.
TEST(TramPhysics, DryAdhesionIsCurtiusAndKniffler) {
  EXPECT_NEAR(adhesion_max(Rail::dry, 0.0, false), 0.3315, 0.0001);
  EXPECT_NEAR(adhesion_max(Rail::dry, 36.0 / 3.6, false), 0.2548, 0.0001);
  EXPECT_NEAR(adhesion_max(Rail::dry, 100.0 / 3.6, false), 0.2131, 0.0001);
}

// "In dry weather ... between 20 % and 40 %, in really wet conditions ... between 10 % and 20 %",
// leaves "as low as 1 %": a low-adhesion manual, www.rail-traction.com/what-is-low-adhesion.
TEST(TramPhysics, AdhesionStaysWithinTheHandbooksRangesAtTramSpeeds) {
  for (double speed = 0.0; speed <= kFifty_mps; speed += 0.5) {
    EXPECT_GE(adhesion_max(Rail::dry, speed, false), 0.20);
    EXPECT_LE(adhesion_max(Rail::dry, speed, false), 0.40);
    EXPECT_GE(adhesion_max(Rail::wet, speed, false), 0.10);
    EXPECT_LE(adhesion_max(Rail::wet, speed, false), 0.20);
    EXPECT_GE(adhesion_max(Rail::leaves, speed, false), 0.01);
    EXPECT_LE(adhesion_max(Rail::leaves, speed, false), 0.10);
  }
}

TEST(TramPhysics, SandNeverLowersAdhesion) {
  for (const Rail rail : {Rail::dry, Rail::wet, Rail::snow, Rail::leaves}) {
    for (double speed = 0.0; speed <= kFifty_mps; speed += 0.5) {
      EXPECT_GE(adhesion_max(rail, speed, true), adhesion_max(rail, speed, false));
    }
  }
  EXPECT_DOUBLE_EQ(adhesion_max(Rail::leaves, 10.0, true), 0.20);
}

TEST(TramPhysics, FullBrakeOnADryRailStopsWithinVSquaredOverTwoA) {
  const TramSpec spec = without_resistance();
  for (const double speed : {5.0, 10.0, kFifty_mps}) {
    Motion motion = rolling_at(speed);
    const double seconds = run_to_stand(motion, spec, {.demand = {.brake = 1.0}});
    const double expected_m = speed * speed / (2.0 * spec.brake_mps2);
    EXPECT_NEAR(motion.position_m, expected_m, 0.02 * expected_m) << "from " << speed;
    EXPECT_NEAR(seconds, speed / spec.brake_mps2, 0.3) << "from " << speed;
  }
  EXPECT_DOUBLE_EQ(stopping_distance_m(10.0, 1.25), 40.0);
}

TEST(TramPhysics, PassengersDoNotLengthenTheStopWhileTheRailCarriesIt) {
  const TramSpec spec = without_resistance();
  Motion empty = rolling_at(10.0);
  Motion full = rolling_at(10.0);
  run_to_stand(empty, spec, {.demand = {.brake = 0.5}});
  run_to_stand(full, spec, {.demand = {.brake = 0.5}, .passengers = 120});
  EXPECT_NEAR(empty.position_m, full.position_m, 0.5);
}

TEST(TramPhysics, NoBrakeBeatsTheAdhesionLimit) {
  const TramSpec spec = without_resistance();
  for (const Rail rail : {Rail::wet, Rail::snow, Rail::leaves}) {
    Motion motion = rolling_at(kFifty_mps);
    run_to_stand(motion, spec, {.demand = {.brake = 1.0}, .rail = rail});
    const double best = adhesion_max(rail, 0.0, false) * kGravity;
    EXPECT_GT(motion.position_m, stopping_distance_m(kFifty_mps, best));
  }
}

TEST(TramPhysics, LockedWheelsSlideAsFarAsTheCreepCurveSays) {
  // Sand holds adhesion at 0.20 at every speed on leaves, so the integral has a constant mu.
  TramSpec spec = without_resistance();
  spec.brake_mps2 = 20.0;
  Motion motion = {.speed_mps = 10.0, .wheel_mps = 0.0};
  run_to_stand(motion, spec, {.demand = {.brake = 1.0}, .rail = Rail::leaves, .sanded = true});
  const double expected_m = locked_distance_m(10.0, 0.20);
  EXPECT_NEAR(motion.position_m, expected_m, 0.02 * expected_m);
}

TEST(TramPhysics, OnLeavesAFullBrakeSlidesAndSandShortensTheStop) {
  const TramSpec spec;
  const Demand full{.brake = 1.0};
  Motion bare = rolling_at(kFifty_mps);
  Motion sanded = rolling_at(kFifty_mps);
  for (int step = 0; step < 240; ++step) {
    bare.advance(spec, {.demand = full, .rail = Rail::leaves});
    sanded.advance(spec, {.demand = full, .rail = Rail::leaves, .sanded = true});
  }
  EXPECT_TRUE(bare.slipping);
  EXPECT_FALSE(sanded.slipping);
  run_to_stand(bare, spec, {.demand = full, .rail = Rail::leaves});
  run_to_stand(sanded, spec, {.demand = full, .rail = Rail::leaves, .sanded = true});
  EXPECT_GT(bare.position_m, 1.5 * sanded.position_m);
}

// Light snow 0.10, with sand 0.15: Vasic, Franklin and Kapoor (2003), from memory. One value
// there, a curve here: it must lie about the value at the speeds of a tram.
TEST(TramPhysics, SnowLeavesAboutATenthOfTheWeightAndSandAHalfMore) {
  for (double speed = 0.0; speed <= kFifty_mps; speed += 0.5) {
    EXPECT_NEAR(adhesion_max(Rail::snow, speed, false), 0.10, 0.021);
    EXPECT_LT(adhesion_max(Rail::snow, speed, false), adhesion_max(Rail::wet, speed, false));
    EXPECT_DOUBLE_EQ(adhesion_max(Rail::snow, speed, true), 0.15);
  }
}

// The full brake wants 1.3 m/s2 of body and wheels, 1.1 times the body: 0.146 of the weight. Sand
// on snow carries that, bare snow does not.
TEST(TramPhysics, InSnowTheFullBrakeHoldsWithSandAndSlidesWithout) {
  const TramSpec spec = without_resistance();
  const double speed = 40.0 / 3.6;
  Motion sanded = rolling_at(speed);
  Motion bare = rolling_at(speed);
  run_to_stand(sanded, spec, {.demand = {.brake = 1.0}, .rail = Rail::snow, .sanded = true});
  run_to_stand(bare, spec, {.demand = {.brake = 1.0}, .rail = Rail::snow});
  const double expected_m = stopping_distance_m(speed, spec.brake_mps2);
  EXPECT_NEAR(sanded.position_m, expected_m, 0.04 * expected_m);
  EXPECT_GT(bare.position_m, 1.5 * expected_m);
}

TEST(TramPhysics, EasingTheHandleLetsLockedWheelsRollAgain) {
  const TramSpec spec;
  Motion motion = {.speed_mps = 10.0, .wheel_mps = 0.0};
  const MotionInputs eased{.demand = {.brake = 0.1}, .rail = Rail::leaves};
  for (int step = 0; step < 240 * 5; ++step) motion.advance(spec, eased);
  EXPECT_FALSE(motion.slipping);
  EXPECT_GT(motion.speed_mps, 5.0);
}

TEST(TramPhysics, TheRailBrakeNeedsNoAdhesion) {
  const TramSpec spec = without_resistance();
  Motion motion = rolling_at(10.0);
  run_to_stand(motion, spec, {.demand = {.rail_brake = true}, .rail = Rail::leaves});
  // Only the body feels the magnets; the wheels must be slowed by the rail on top of that.
  const double total = spec.empty_kg * (1.0 + spec.rotating_share);
  const double expected_m = stopping_distance_m(10.0, spec.rail_brake_mps2 * spec.empty_kg / total);
  EXPECT_NEAR(motion.position_m, expected_m, 0.03 * expected_m);
}

TEST(TramPhysics, AConstantForceAcceleratesByNewtonsLaw) {
  const TramSpec spec = without_resistance();
  Motion motion;
  for (int step = 0; step < 240 * 4; ++step) motion.advance(spec, {.demand = {.power = 0.5}});
  const double total = spec.empty_kg * (1.0 + spec.rotating_share);
  EXPECT_NEAR(motion.speed_mps, 4.0 * 0.5 * spec.effort_newton_max / total, 0.05);
}

TEST(TramPhysics, AtConstantPowerTheKineticEnergyGrowsByPowerTimesTime) {
  const TramSpec spec = without_resistance();
  Motion motion = rolling_at(9.0);  // above effort_newton_max x v = power_watt_max
  for (int step = 0; step < 240 * 10; ++step) motion.advance(spec, {.demand = {.power = 1.0}});
  const double total = spec.empty_kg * (1.0 + spec.rotating_share);
  const double expected = std::sqrt(81.0 + 2.0 * spec.power_watt_max * 10.0 / total);
  EXPECT_NEAR(motion.speed_mps, expected, 0.01 * expected);  // creep costs a little
}

TEST(TramPhysics, TheHeaterTakesItsShareOfThePower) {
  const TramSpec spec;
  Motion cold = rolling_at(10.0);
  Motion warm = rolling_at(10.0);
  for (int step = 0; step < 240 * 5; ++step) {
    cold.advance(spec, {.demand = {.power = 1.0}});
    warm.advance(spec, {.demand = {.power = 1.0}, .auxiliary_watt = 40000.0});
  }
  EXPECT_GT(cold.speed_mps, warm.speed_mps + 0.1);
}

TEST(TramPhysics, CoastingWithConstantResistanceGoesVSquaredOverTwoA) {
  TramSpec spec = without_resistance();
  spec.resistance_newton = 3000.0;
  Motion motion = rolling_at(8.0);
  run_to_stand(motion, spec, {});
  const double total = spec.empty_kg * (1.0 + spec.rotating_share);
  const double expected_m = stopping_distance_m(8.0, 3000.0 / total);
  EXPECT_NEAR(motion.position_m, expected_m, 0.01 * expected_m);
}

TEST(TramPhysics, CoastingAgainstAirAloneFallsAsOneOverOnePlusT) {
  // m dv/dt = -c v^2 gives v = v0 / (1 + c v0 t / m).
  TramSpec spec = without_resistance();
  spec.resistance_per_mps2 = 40.0;
  Motion motion = rolling_at(20.0);
  for (int step = 0; step < 240 * 30; ++step) motion.advance(spec, {});
  const double total = spec.empty_kg * (1.0 + spec.rotating_share);
  EXPECT_NEAR(motion.speed_mps, 20.0 / (1.0 + 40.0 * 20.0 * 30.0 / total), 0.02);
}

TEST(TramPhysics, AStandingTramStaysUntilTheMotorsBeatTheResistance) {
  const TramSpec spec;
  Motion motion;
  const double just_too_little = 0.99 * spec.resistance_newton / spec.effort_newton_max;
  for (int step = 0; step < 2400; ++step) {
    motion.advance(spec, {.demand = {.power = just_too_little}});
  }
  EXPECT_EQ(motion.position_m, 0.0);
  for (int step = 0; step < 2400; ++step) {
    motion.advance(spec, {.demand = {.power = 1.2 * just_too_little}});
  }
  EXPECT_GT(motion.position_m, 0.1);
}

TEST(TramPhysics, FullPowerOnLeavesSpinsTheWheels) {
  const TramSpec spec;
  Motion motion;
  for (int step = 0; step < 240; ++step) {
    motion.advance(spec, {.demand = {.power = 1.0}, .rail = Rail::leaves});
  }
  EXPECT_TRUE(motion.slipping);
  EXPECT_GT(motion.wheel_mps, motion.speed_mps + 1.0);
  EXPECT_LT(motion.speed_mps, adhesion_max(Rail::leaves, 0.0, false) * kGravity * 1.0);
}

TEST(TramPhysics, TheTramNeverRollsBackwards) {
  const TramSpec spec;
  Motion motion = rolling_at(3.0);
  double before = 0.0;
  for (int step = 0; step < 240 * 20; ++step) {
    motion.advance(spec, {.demand = {.brake = 1.0, .rail_brake = true}, .held = true});
    ASSERT_GE(motion.position_m, before);
    ASSERT_GE(motion.wheel_mps, 0.0);
    before = motion.position_m;
  }
  EXPECT_EQ(motion.speed_mps, 0.0);
}

}  // namespace
}  // namespace understudy::tram
