// The price list of score.h.
#include "scenarios/tram/game/rules/score.h"

#include <algorithm>
#include <cmath>

namespace understudy::tram {

namespace {

constexpr double kForMark = 30.0;
constexpr double kForTime = 30.0;
constexpr double kForWarmth = 20.0;
constexpr double kForEverybody = 20.0;
constexpr double kPerPersonLeftBehind = 5.0;

double falling(double value, double full_until, double none_from) {
  return std::clamp((none_from - value) / (none_from - full_until), 0.0, 1.0);
}

}  // namespace

int points_for(const StopRecord& record) {
  if (!record.served) return 0;
  double points = kForMark * falling(std::abs(record.mark_error_m), 0.5, kDoorsReach_m);
  if (!record.left_early) points += kForTime * falling(record.late_s, kOnTime_s, kHopelesslyLate_s);
  if (record.warm) points += kForWarmth;
  points += std::max(0.0, kForEverybody - kPerPersonLeftBehind * record.left_behind);
  return static_cast<int>(std::lround(points));
}

int points_for(const StopRecords& records, const Tally& tally) {
  int points = 0;
  for (const StopRecord& record : records) points += points_for(record);
  points -= 40 * tally.reds_passed + 25 * tally.frights + 10 * tally.rail_brake_uses;
  points -= static_cast<int>(std::lround(2.0 * tally.too_fast_s + tally.slipping_s));
  return std::max(0, points);
}

}  // namespace understudy::tram
