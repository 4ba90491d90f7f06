// Names of the streams of one part, and the effect of a hand on it.
#include "sim/device/moved_part.h"

#include <algorithm>

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
      turn(t, action, plan.clicks);
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

// A knob comes to rest in a detent, however far the hand meant to turn it.
void MovedPart::turn(Instant t, const HandAction& action, const Clicks& clicks) {
  const std::int32_t goal = gesture_.goal_ppm();
  const std::int32_t by = std::clamp(action.to_ppm, -kTurnedMost / 2, kTurnedMost / 2);
  gesture_.turn(t, clicks.settled(goal + by) - goal, action.duration, action.curve);
}

}  // namespace understudy
