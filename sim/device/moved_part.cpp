// Names of the streams of one part, and the effect of a hand on it.
#include "sim/device/moved_part.h"

namespace understudy {

MovedPart::MovedPart(const MovedPartPlan& plan, std::uint64_t seed, const std::string& key)
    : levels_before(plan.contact.wired == Wiring::kPullUp ? ~std::uint64_t{0} : 0),
      noise(seed, key + ".noise"),
      gesture_(plan.rest_ppm),
      contact_(plan.rest_ppm * 2 >= kFullTravel),
      bounce_(seed, key + ".bounce") {}

void MovedPart::move(Instant t, const HandAction& action, const MovedPartPlan& plan) {
  switch (plan.way) {
    case HandWay::kPlaces:
      clicked_.before_move(t, gesture_, plan.clicks);
      gesture_.move(t, action.to_ppm, action.duration, action.curve);
      return;
    case HandWay::kTurns:
      clicked_.before_move(t, gesture_, plan.clicks);
      gesture_.turn(t, action.to_ppm, action.duration, action.curve);
      return;
    case HandWay::kSlides:
    case HandWay::kPresses:
    case HandWay::kToggles:
      break;
  }
  settle(t, plan.contact);
  gesture_.move(t, action.to_ppm, action.duration, action.curve);
  change_to_ = gesture_.goal_ppm() * 2 >= kFullTravel;
  change_at_ = gesture_.half_way();
}

}  // namespace understudy
