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

using StopRecords = std::array<StopRecord, kStops.size()>;

constexpr double kEarly_s = 3.0;    // leaving this much before time counts as early
constexpr double kOnTime_s = 10.0;  // as late as this still counts as on time
constexpr double kHopelesslyLate_s = 90.0;

// 0 to 100.
int points_for(const StopRecord& record);

// All stops less the tally; never below 0, at most 100 x number of stops.
int points_for(const StopRecords& records, const Tally& tally);

}  // namespace understudy::tram
