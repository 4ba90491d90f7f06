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

int whole(double points) {
  return static_cast<int>(std::lround(points));
}

}  // namespace

StopPoints points_for(const StopRecord& record) {
  if (!record.served) return {};
  const double near = falling(std::abs(record.mark_error_m), 0.5, kDoorsReach_m);
  const double prompt =
      record.left_early ? 0.0 : falling(record.late_s, kOnTime_s, kHopelesslyLate_s);
  return {
      .mark = whole(kForMark * near),
      .time = whole(kForTime * prompt),
      .warmth = record.warm ? whole(kForWarmth) : 0,
      .everybody = whole(std::max(0.0, kForEverybody - kPerPersonLeftBehind * record.left_behind))};
}

Deductions deductions_for(const Tally& tally) {
  return {.reds = 40 * tally.reds_passed,
          .frights = 25 * tally.frights,
          .rail_brake = 10 * tally.rail_brake_uses,
          .too_fast = whole(2.0 * tally.too_fast_s),
          .slipping = whole(tally.slipping_s)};
}

int points_for(const StopRecords& records, const Tally& tally) {
  int points = -deductions_for(tally).sum();
  for (const StopRecord& record : records) points += points_for(record).sum();
  return std::max(0, points);
}

}  // namespace understudy::tram
