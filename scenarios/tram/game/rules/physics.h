// How the tram moves along the rail: effort, adhesion, running resistance, brakes, wheel slip.
// Longitudinal only, on the level. Knows nothing of stops, signals or drivers.
//
//   motor and wheel brake --> [ wheels ] --creep--> [ body ] <-- running resistance, rail brake
//
// Wheels and body are two masses joined by the contact on the rail, which carries at most
// adhesion x weight. Ask the wheels for more and they spin or lock, and carry less than before.
#pragma once

#include "scenarios/tram/game/rules/handle.h"

namespace understudy::tram {

constexpr double kGravity = 9.80665;          // m/s2, standard gravity
constexpr double kStepSeconds = 1.0 / 240.0;  // the one step that advance() takes

// Values of a middling four-axle tram, all axles driven. From memory unless a source is named.
struct TramSpec {
  double empty_kg = 30000.0;
  double passenger_kg = 70.0;
  double rotating_share = 0.10;        // inertia of wheels and motors, as a share of empty_kg
  double effort_newton_max = 42000.0;  // at low speed
  double power_watt_max = 320000.0;    // limits the effort from about 27 km/h upwards
  double brake_mps2 = 1.3;             // full service brake on a rail that can carry it
  double rail_brake_mps2 = 1.2;        // more, by the rail magnets; needs no adhesion of wheels
  double resistance_newton = 1800.0;   // running resistance: constant part, 6 N per kN of weight
  double resistance_per_mps = 20.0;    // part that grows with speed
  double resistance_per_mps2 = 4.5;    // air: half density x drag coefficient 0.9 x 8 m2
  double length_m = 21.0;
};

// The state of the rail under the wheels.
enum class Rail { dry, wet, snow, leaves };

// Largest adhesion (force over weight) that rail can give at this speed.
// Dry: Curtius and Kniffler (1950): 7.5 / (v + 44) + 0.161, v in km/h.
// Wet: half of that, which lies in the 10 to 20 % that handbooks give for very wet rails; light
// snow: a third, about the 0.10 of Vasic, Franklin and Kapoor's table (2003, from memory); wet
// leaves: a quarter (handbooks: "as low as 1 %" at worst). Sand brings it back to at least 0.20
// (from memory), in snow to 0.15 (the same table), and never lowers anything.
double adhesion_max(Rail rail, double speed_mps, bool sanded);

// Share of adhesion_max carried at a given difference between wheel and rail speed: rises to 1 at
// kCreepPeakMps, then falls towards kSlidingShare, which is why a slipping wheel stays slipping.
constexpr double kCreepPeakMps = 0.25;
constexpr double kSlidingShare = 0.6;
double creep_share(double slip_mps);

// Running resistance in newton at a speed >= 0 (the Davis form: constant, linear, square).
double running_resistance(const TramSpec& spec, double speed_mps);

struct MotionInputs {
  Demand demand;
  Rail rail = Rail::dry;
  bool sanded = false;
  bool held = false;  // doors not shut: motors off, wheel brake on
  int passengers = 0;
  double auxiliary_watt = 0.0;  // what heater and lights take away from the motors
};

// A plain value: copy it to look ahead. The tram never rolls backwards.
struct Motion {
  double position_m = 0.0;  // of the tram's front
  double speed_mps = 0.0;
  double wheel_mps = 0.0;  // what the wheels' rim does
  double acceleration_mps2 = 0.0;
  bool slipping = false;  // more than kCreepPeakMps between wheel and rail

  // Moves on by kStepSeconds.
  void advance(const TramSpec& spec, const MotionInputs& inputs);
};

// Distance to stop from a speed with a steady deceleration: v^2 / 2a. REQUIRES: deceleration > 0
double stopping_distance_m(double speed_mps, double deceleration_mps2);

}  // namespace understudy::tram
