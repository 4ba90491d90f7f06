// Look-ups in the tables of line_of_stops.h.
#include "scenarios/tram/game/rules/line_of_stops.h"

namespace understudy::tram {

namespace {

constexpr double kLimit_mps = 50.0 / 3.6;
constexpr double kSlow_mps = 30.0 / 3.6;

bool lies_in(const Stretch& stretch, double position_m) {
  return position_m >= stretch.from_m && position_m < stretch.to_m;
}

}  // namespace

Rail rail_at(double position_m, Rail open) {
  for (const Stretch& stretch : kLeaves) {
    if (lies_in(stretch, position_m)) return Rail::leaves;
  }
  return lies_in(kCovered, position_m) ? Rail::dry : open;
}

double speed_limit_mps(double position_m) {
  return lies_in(kSlowStretch, position_m) ? kSlow_mps : kLimit_mps;
}

}  // namespace understudy::tram
