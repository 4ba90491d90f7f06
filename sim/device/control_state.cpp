// Names of the streams of one control, and the effect of a hand on it.
#include "sim/device/control_state.h"

namespace understudy {

ControlState::ControlState(const ControlDescription& control, std::uint64_t seed,
                           const std::string& key)
    : level_before(control.contact.wired == Wiring::kPullUp),
      noise(seed, key + ".noise"),
      gesture_(static_cast<std::int32_t>(control.rest_ppm)),
      contact_(control.rest_ppm * 2 >= kFullTravel),
      bounce_(seed, key + ".bounce") {}

void ControlState::move(Instant t, const HandAction& action, const ContactPart& part) {
  settle(t, part);
  gesture_.move(t, action.to_ppm, action.duration, action.curve);
  change_to_ = gesture_.goal_ppm() * 2 >= kFullTravel;
  change_at_ = gesture_.half_way();
}

}  // namespace understudy
