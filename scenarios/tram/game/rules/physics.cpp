// The two masses and the contact between them, advanced by the semi-implicit Euler rule. The
// contact is stiff (up to 300 per second), so the step of 1/240 s is well inside what the rule
// bears.
#include "scenarios/tram/game/rules/physics.h"

#include <algorithm>
#include <cmath>

namespace understudy::tram {

namespace {

constexpr double kKilometresPerHour = 3.6;
constexpr double kSandedAdhesion = 0.20;
constexpr double kSandedSnowAdhesion = 0.15;
constexpr double kStandingMps = 0.02;

double total_kg(const TramSpec& spec, const MotionInputs& inputs) {
  return spec.empty_kg + spec.passenger_kg * inputs.passengers;
}

double motor_newton(const TramSpec& spec, const MotionInputs& inputs, double wheel_mps) {
  const double watt = std::max(0.0, spec.power_watt_max - inputs.auxiliary_watt);
  const double by_power = watt / std::max(wheel_mps, 0.5);
  return inputs.demand.power * std::min(spec.effort_newton_max, by_power);
}

// What stops the body without the wheels; always against the motion.
double direct_retarding_newton(const TramSpec& spec, const MotionInputs& inputs, double speed_mps) {
  const double magnets =
      inputs.demand.rail_brake ? spec.rail_brake_mps2 * total_kg(spec, inputs) : 0.0;
  return running_resistance(spec, speed_mps) + magnets;
}

}  // namespace

double adhesion_max(Rail rail, double speed_mps, bool sanded) {
  const double dry = 7.5 / (std::abs(speed_mps) * kKilometresPerHour + 44.0) + 0.161;
  if (rail == Rail::dry) return dry;
  const double bare = rail == Rail::wet ? dry / 2.0 : rail == Rail::snow ? dry / 3.0 : dry / 4.0;
  const double with_sand = rail == Rail::snow ? kSandedSnowAdhesion : kSandedAdhesion;
  return sanded ? std::max(bare, with_sand) : bare;
}

double creep_share(double slip_mps) {
  const double slip = std::abs(slip_mps) / kCreepPeakMps;
  const double curve = 2.0 * slip / (1.0 + slip * slip);
  const double share = slip <= 1.0 ? curve : kSlidingShare + (1.0 - kSlidingShare) * curve;
  return std::copysign(share, slip_mps);
}

double running_resistance(const TramSpec& spec, double speed_mps) {
  return spec.resistance_newton + spec.resistance_per_mps * speed_mps +
         spec.resistance_per_mps2 * speed_mps * speed_mps;
}

double stopping_distance_m(double speed_mps, double deceleration_mps2) {
  return speed_mps * speed_mps / (2.0 * deceleration_mps2);
}

void Motion::advance(const TramSpec& spec, const MotionInputs& inputs) {
  const double body_kg = total_kg(spec, inputs);
  const double wheels_kg = spec.rotating_share * spec.empty_kg;
  const double adhesion = adhesion_max(inputs.rail, speed_mps, inputs.sanded);
  const double contact = creep_share(wheel_mps - speed_mps) * adhesion * body_kg * kGravity;

  const bool standing = speed_mps < kStandingMps && wheel_mps < kStandingMps;
  const double motor = inputs.held ? 0.0 : motor_newton(spec, inputs, wheel_mps);
  const double resistance = direct_retarding_newton(spec, inputs, speed_mps);
  if (standing && motor <= resistance) {
    *this = {.position_m = position_m};
    return;
  }

  // The wheel brake asks for brake_mps2 of the whole tram, rotating parts included.
  const double brake_share = inputs.held ? 1.0 : inputs.demand.brake;
  const double brake = brake_share * spec.brake_mps2 * (body_kg + wheels_kg);
  wheel_mps += kStepSeconds * (motor - contact) / wheels_kg;
  wheel_mps = std::max(0.0, wheel_mps - kStepSeconds * brake / wheels_kg);  // it stops, never turns

  const double before = speed_mps;
  speed_mps = std::max(0.0, speed_mps + kStepSeconds * (contact - resistance) / body_kg);
  position_m += kStepSeconds * (before + speed_mps) / 2.0;
  acceleration_mps2 = (speed_mps - before) / kStepSeconds;
  slipping = std::abs(wheel_mps - speed_mps) > kCreepPeakMps;
}

}  // namespace understudy::tram
