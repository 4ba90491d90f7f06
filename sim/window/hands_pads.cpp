// What game controllers do: each control of the panel names the axis or button that moves it.
#include <cmath>

#include "sim/model/kinds.h"
#include "sim/window/hands.h"

namespace understudy {
namespace {

// What a worn stick shows at rest is less (common practice, no source); beyond it all of the way.
constexpr float kDeadZone = 0.08F;
constexpr float kDown = 0.5F;  // of a trigger or a stick that is to press something
constexpr Duration kLength = milliseconds(16);
constexpr std::uint8_t kStickPress = 2;

float past_dead_zone(float value) {
  const float size = std::abs(value);
  if (size <= kDeadZone) return 0;
  return std::copysign(std::min(1.0F, (size - kDeadZone) / (1 - kDeadZone)), value);
}

bool is_stick_axis(std::string_view name) {
  return name.ends_with(" x") || name.ends_with(" y");
}

// -1 to 1 about the middle of a travel; up and right are more.
std::int32_t ppm_of_axis(std::string_view name, float value, std::int32_t middle) {
  const float share = past_dead_zone(name.ends_with(" y") ? -value : value);
  const float room = static_cast<float>(share > 0 ? kFullTravel - middle : middle);
  return middle + static_cast<std::int32_t>(std::lround(share * room));
}

}  // namespace

void Hands::pad(std::string_view name, float value) {
  if (panel() == nullptr) return;
  const auto known = pads_.find(name);
  const float before = known != pads_.end() ? known->second : 0.0F;
  pads_.insert_or_assign(std::string(name), value);
  for (std::uint16_t index = 0; index < panel()->controls.size(); ++index) {
    const ControlDescription& moved = control(index);
    const std::string& given = moved.keys.gamepad;
    if (given.empty() || hand_parts(moved).empty()) continue;
    const bool down = std::abs(value) > kDown;
    const bool was_down = std::abs(before) > kDown;
    if (moved.kind == ControlKind::kStick) {  // "left": both its axes, and its press
      if (!name.starts_with(given)) continue;
      if (name == given + " x")
        send(index, 0, ppm_of_axis(name, value, rest_ppm(moved, 0)), kLength);
      if (name == given + " y")
        send(index, 1, ppm_of_axis(name, value, rest_ppm(moved, 1)), kLength);
      if (name == given + " stick" && down != was_down && moved.stick.presses)
        set_pressed(index, kStickPress, down);
      continue;
    }
    if (name != given) continue;
    switch (hand_parts(moved).front().way) {
      case HandWay::kSlides:
        send(index, 0,
             is_stick_axis(name)
                 ? ppm_of_axis(name, value, kFullTravel / 2)
                 : static_cast<std::int32_t>(std::lround(value * static_cast<float>(kFullTravel))),
             kLength);
        break;
      case HandWay::kPresses:
        if (down != was_down) set_pressed(index, 0, down);
        break;
      case HandWay::kToggles:
        if (down && !was_down) send(index, 0, position(index, 0) > 0 ? 0 : kFullTravel, {});
        break;
      case HandWay::kPlaces:
      case HandWay::kTurns:
        if (down && !was_down) step(index, value > 0 ? 1.0F : -1.0F, false);
        break;
    }
  }
}

}  // namespace understudy
