// What a shift is worth: points per stop for the mark, the clock, warmth and nobody left behind,
// less what went wrong on the way. Pure functions of the records.
#pragma once

#include <array>

#include "scenarios/tram/game/rules/line_of_stops.h"

namespace understudy::tram {

struct StopRecord {
  bool served = false;
  bool missed = false;
  double mark_error_m = 0.0;  // positive: past the mark
  double late_s = 0.0;        // the worse of arriving and leaving; early is not negative
  bool left_early = false;
  bool warm = false;
  int left_behind = 0;
};

struct Tally {
  int reds_passed = 0;
  int frights = 0;
  int rail_brake_uses = 0;  // with passengers aboard and at more than walking speed
  double too_fast_s = 0.0;
  double slipping_s = 0.0;
};

// What one stop earned, part by part; whole points, so that a report's sums come out.
struct StopPoints {
  int mark = 0;       // 0 to 30: full within half a metre, none at 6 m
  int time = 0;       // 0 to 30: none for leaving early, falling from 10 s to 90 s late
  int warmth = 0;     // 0 or 20
  int everybody = 0;  // 0 to 20: 5 less for each person left behind

  int sum() const { return mark + time + warmth + everybody; }
};

// What the way cost, part by part.
struct Deductions {
  int reds = 0;        // 40 each
  int frights = 0;     // 25 each
  int rail_brake = 0;  // 10 each
  int too_fast = 0;    // 2 a second
  int slipping = 0;    // 1 a second

  int sum() const { return reds + frights + rail_brake + too_fast + slipping; }
};

using StopRecords = std::array<StopRecord, kStops.size()>;

constexpr double kEarly_s = 3.0;    // leaving this much before time counts as early
constexpr double kOnTime_s = 10.0;  // as late as this still counts as on time
constexpr double kHopelesslyLate_s = 90.0;

// Nothing for a stop that was not served.
StopPoints points_for(const StopRecord& record);

Deductions deductions_for(const Tally& tally);

// All stops less the tally; never below 0, at most 100 x number of stops.
int points_for(const StopRecords& records, const Tally& tally);

}  // namespace understudy::tram
