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

// Of all that lean it the one that leans it furthest.
float Hands::of_any_pad(std::string_view name) const {
  float furthest = 0;
  for (const auto& [pad, values] : pads_) {
    const auto known = values.find(name);
    if (known != values.end() && std::abs(known->second) > std::abs(furthest))
      furthest = known->second;
  }
  return furthest;
}

void Hands::pad(PadId pad, std::string_view name, float value) {
  if (panel() == nullptr || !std::isfinite(value)) return;
  auto& values = pads_[pad];
  const auto known = values.find(name);
  const float own_before = known != values.end() ? known->second : 0.0F;
  if (value == own_before) return;
  PadMove move = {.name = std::string(name),
                  .source = "pad " + std::to_string(pad) + " " + std::string(name),
                  .before = of_any_pad(name),
                  .pressed = std::abs(value) > kDown && std::abs(own_before) <= kDown};
  if (value != 0)
    values.insert_or_assign(move.name, value);
  else
    values.erase(move.name);
  move.value = of_any_pad(name);
  if (std::abs(value) <= kDown) let_go_source(move.source);
  for (std::uint16_t index = 0; index < panel()->controls.size(); ++index) {
    const ControlDescription& control = this->control(index);
    if (!control.keys.gamepad.empty() && !hand_parts(control).empty()) pad_moves(index, move);
  }
}

void Hands::pad_gone(PadId pad) {
  const auto found = pads_.find(pad);
  if (found == pads_.end()) return;
  const auto values = found->second;
  for (const auto& [name, value] : values) this->pad(pad, name, 0);
  pads_.erase(pad);
}

void Hands::pads_gone() {
  while (!pads_.empty()) pad_gone(pads_.begin()->first);
}

void Hands::pad_moves(std::uint16_t index, const PadMove& move) {
  const ControlDescription& moved = control(index);
  const std::string& given = moved.keys.gamepad;
  const std::string& name = move.name;
  const float value = move.value;
  const bool still = past_dead_zone(value) == past_dead_zone(move.before);
  if (moved.kind == ControlKind::kStick) {  // "left": both its axes, and its press
    if (name == given + " x" && !still)
      send(index, 0, ppm_of_axis(name, value, rest_ppm(moved, 0)), kLength);
    if (name == given + " y" && !still)
      send(index, 1, ppm_of_axis(name, value, rest_ppm(moved, 1)), kLength);
    if (name == given + " stick" && move.pressed && moved.stick.presses)
      hold({seat_, index, kStickPress}, move.source);
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
      if (move.pressed) hold({seat_, index, 0}, move.source);
      break;
    case HandWay::kToggles:
      if (move.pressed) send(index, 0, position(index, 0) >= kFullTravel / 2 ? 0 : kFullTravel, {});
      break;
    case HandWay::kPlaces:
    case HandWay::kTurns:
      if (move.pressed) step(index, value >= 0 ? 1.0F : -1.0F, false);
      break;
  }
}

}  // namespace understudy
