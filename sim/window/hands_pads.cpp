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
  if (panel() == nullptr || !std::isfinite(value)) return;
  const auto known = pads_.find(name);
  const float before = known != pads_.end() ? known->second : 0.0F;
  if (value == before) return;
  const std::string moved(name);
  pads_.insert_or_assign(moved, value);
  if (std::abs(value) <= kDown) let_go_source("pad " + moved);
  for (std::uint16_t index = 0; index < panel()->controls.size(); ++index) {
    const ControlDescription& control = this->control(index);
    if (!control.keys.gamepad.empty() && !hand_parts(control).empty())
      pad_moves(index, moved, value, before);
  }
}

void Hands::pads_gone() {
  const auto all = pads_;
  for (const auto& [name, value] : all) pad(name, 0);
}

void Hands::pad_moves(std::uint16_t index, const std::string& name, float value, float before) {
  const ControlDescription& moved = control(index);
  const std::string& given = moved.keys.gamepad;
  const bool pressed = std::abs(value) > kDown && std::abs(before) <= kDown;
  const bool still = past_dead_zone(value) == past_dead_zone(before);
  if (moved.kind == ControlKind::kStick) {  // "left": both its axes, and its press
    if (name == given + " x" && !still)
      send(index, 0, ppm_of_axis(name, value, rest_ppm(moved, 0)), kLength);
    if (name == given + " y" && !still)
      send(index, 1, ppm_of_axis(name, value, rest_ppm(moved, 1)), kLength);
    if (name == given + " stick" && pressed && moved.stick.presses)
      hold({seat_, index, kStickPress}, "pad " + name);
    return;
  }
  if (name != given) return;
  switch (hand_parts(moved).front().way) {
    case HandWay::kSlides: {
      const float share = std::clamp(value, 0.0F, 1.0F);
      if (!still)
        send(index, 0,
             is_stick_axis(name)
                 ? ppm_of_axis(name, value, kFullTravel / 2)
                 : static_cast<std::int32_t>(std::lround(share * static_cast<float>(kFullTravel))),
             kLength);
      break;
    }
    case HandWay::kPresses:
      if (pressed) hold({seat_, index, 0}, "pad " + name);
      break;
    case HandWay::kToggles:
      if (pressed) send(index, 0, position(index, 0) >= kFullTravel / 2 ? 0 : kFullTravel, {});
      break;
    case HandWay::kPlaces:
    case HandWay::kTurns:
      if (pressed) step(index, value > 0 ? 1.0F : -1.0F, false);
      break;
  }
}

}  // namespace understudy
