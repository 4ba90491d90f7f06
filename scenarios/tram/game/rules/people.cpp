// When each walker comes and goes; see people.h.
#include "scenarios/tram/game/rules/people.h"

#include <algorithm>

#include "scenarios/tram/game/rules/chance.h"
#include "scenarios/tram/game/rules/line_of_stops.h"

namespace understudy::tram {

namespace {

constexpr double kSlow_mps = 1.5;
constexpr double kPatience_s = 3.0;  // before a tram that waits, everybody moves on in the end

}  // namespace

People::People(std::uint64_t seed) {
  Chance chance(seed ^ 0x70656f706c65u);
  for (std::size_t index = 0; index < kWalkers; ++index) {
    const double from = kStops[index].mark_m;
    const double to = kStops[index + 1].mark_m;
    walkers_[index].at_m = from + (to - from) * chance.between(0.45, 0.75);
  }
}

int People::advance(double seconds, const Inputs& inputs) {
  int frights = 0;
  for (One& one : walkers_) {
    const double gap = one.at_m - inputs.front_m;
    if (one.state == Walker::away && gap < kWalkerSees_m) one.state = Walker::on_track;
    if (one.state == Walker::on_track) {
      const bool slow = inputs.speed_mps < kSlow_mps;
      if (slow && gap < kBellHeard_m) one.waited_s += seconds;
      const bool heard = inputs.bell && gap < kBellHeard_m;
      const bool frightened = gap < kLastMoment_m && !slow;
      if (heard || frightened || one.waited_s > kPatience_s) one.state = Walker::leaving;
      if (frightened && !heard) ++frights;
    } else if (one.state == Walker::leaving) {
      one.leaving_for_s += seconds;
      if (one.leaving_for_s >= kLeaves_s) one.state = Walker::gone;
    }
  }
  return frights;
}

double People::left_share(std::size_t index) const {
  return std::min(1.0, walkers_[index].leaving_for_s / kLeaves_s);
}

bool People::in_the_way(double front_m) const {
  return std::any_of(walkers_.begin(), walkers_.end(), [&](const One& one) {
    return one.state == Walker::on_track && one.at_m - front_m < kBellHeard_m && one.at_m > front_m;
  });
}

}  // namespace understudy::tram
