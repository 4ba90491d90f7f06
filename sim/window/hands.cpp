// What pointers do: take hold, drag, let go; and what all hands share. Keys stand in
// hands_keys.cpp, game controllers in hands_pads.cpp.
#include "sim/window/hands.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "sim/model/kinds.h"

namespace understudy {
namespace {

// Movements last as long as a frame, so that they join without a step (our choice).
constexpr Duration kBetweenFrames = milliseconds(16);
constexpr Duration kWheelLength = milliseconds(60);
constexpr float kWheelShare = 0.02F;  // of the travel, a notch
constexpr float kFineShare = 0.1F;
constexpr float kByAngleMm = 4.0F;  // nearer to the middle a knob is turned by going up and down
constexpr float kWholeTravelMm = 45.0F;  // of that
constexpr float kMovedMm = 1.0F;         // less is a click
constexpr std::uint8_t kStickPress = 2;

float degrees_of(const Point& from_middle) {
  return std::atan2(from_middle.x, -from_middle.y) * 180.0F / std::numbers::pi_v<float>;
}

float length_of(const Point& point) {
  return std::hypot(point.x, point.y);
}

HandWay way_of(const ControlDescription& control, std::size_t part = 0) {
  const auto parts = hand_parts(control);
  return part < parts.size() ? parts[part].way : HandWay::kSlides;
}

bool is_rotary(const ControlDescription& control) {
  return control.kind == ControlKind::kPot && control.pot.shape == TravelShape::kRotary;
}

}  // namespace

const PanelDescription* Hands::panel() const {
  if (view_ == nullptr || seat_ >= view_->seats.size()) return nullptr;
  return &view_->seats[seat_].device.panel().description;
}

const ControlDescription& Hands::control(std::uint16_t index) const {
  return panel()->controls[index];
}

void Hands::see(const SessionView& view, std::size_t seat, const FaceGeometry& face) {
  view_ = &view;
  face_ = &face;
  const std::uint16_t before = seat_;
  seat_ = static_cast<std::uint16_t>(seat);
  const PanelDescription* now = panel();
  const std::size_t count = now != nullptr ? now->controls.size() : 0;
  const std::string name = now != nullptr ? now->name : std::string();
  if (before == seat_ && count == control_count_ && name == panel_name_) return;
  grabs_.clear();
  steady_.clear();
  held_.clear();
  pressed_.clear();
  sent_.clear();
  hovered_.reset();
  focus_.reset();
  control_count_ = count;
  panel_name_ = name;
  std::erase_if(wedges_[seat_], [count](std::uint16_t wedge) { return wedge >= count; });
}

std::int32_t Hands::position(std::uint16_t control, std::uint8_t part) const {
  const auto sent = sent_.find({seat_, control, part});
  if (sent != sent_.end() && (!grabs_.empty() || !steady_.empty())) return sent->second;
  return view_->seats[seat_].device.goal_ppm(control, part);
}

std::optional<FaceHit> Hands::control_at(const Point& at) const {
  if (face_ == nullptr || panel() == nullptr) return std::nullopt;
  const std::optional<FaceHit> found = hit(*face_, at);
  if (!found || found->part.output || found->part.index >= panel()->controls.size())
    return std::nullopt;
  if (hand_parts(control(found->part.index)).empty()) return std::nullopt;
  return found;
}

Point Hands::middle_of(std::uint16_t control) const {
  for (const PlacedPart& part : face_->parts)
    if (!part.id.output && part.id.index == control) return part.middle;
  return {};
}

void Hands::send(std::uint16_t control, std::uint8_t part, std::int32_t to_ppm, Duration length) {
  to_ppm = std::clamp<std::int32_t>(to_ppm, 0, kFullTravel);
  sent_[{seat_, control, part}] = to_ppm;
  const HandAction action = {.control = control,
                             .part = part,
                             .to_ppm = to_ppm,
                             .duration = length,
                             .curve = length.ns == 0 ? Curve::kAtOnce : Curve::kLinear};
  wishes_.emplace_back(HandWish{.hands = {TimedHand{{}, seat_, action}}, .instead = true});
}

void Hands::turn(std::uint16_t control, int clicks) {
  if (clicks == 0) return;
  const HandAction action = {.control = control,
                             .part = 0,
                             .to_ppm = turn_ppm(clicks, this->control(control).encoder.detents),
                             .duration = kWheelLength,
                             .curve = Curve::kLinear};
  wishes_.emplace_back(HandWish{.hands = {TimedHand{{}, seat_, action}}, .instead = false});
}

// A wedge keeps down what a hand lets go.
void Hands::set_pressed(std::uint16_t control, std::uint8_t part, bool pressed) {
  const HandTarget target = {seat_, control, part};
  if (pressed)
    pressed_.insert(target);
  else
    pressed_.erase(target);
  if (!pressed && wedged(control)) return;
  send(control, part, pressed ? kFullTravel : 0, {});
}

void Hands::set_wedge(std::uint16_t control, bool wedged) {
  if (panel() == nullptr || control >= panel()->controls.size()) return;
  const auto parts = hand_parts(this->control(control));
  for (std::uint8_t part = 0; part < parts.size(); ++part) {
    if (parts[part].way != HandWay::kPresses) continue;
    if (wedged)
      wedges_[seat_].insert(control);
    else
      wedges_[seat_].erase(control);
    if (!pressed_.contains({seat_, control, part}))
      send(control, part, wedged ? kFullTravel : 0, {});
    return;
  }
}

bool Hands::wedged(std::uint16_t control) const {
  const auto seat = wedges_.find(seat_);
  return seat != wedges_.end() && seat->second.contains(control);
}

// So many steps of what a step is of each kind.
void Hands::step(std::uint16_t index, float steps, bool fine) {
  const ControlDescription& moved = control(index);
  switch (way_of(moved)) {
    case HandWay::kSlides: {
      if (moved.kind == ControlKind::kStick) return;
      const float share = steps * kWheelShare * (fine ? kFineShare : 1.0F);
      const auto by = static_cast<std::int32_t>(std::lround(share * kFullTravel));
      send(index, 0, position(index, 0) + by, kWheelLength);
      return;
    }
    case HandWay::kPlaces: {
      const std::int64_t places = moved.selector.places;
      const std::int64_t place = place_at(position(index, 0), places) + (steps > 0 ? 1 : -1);
      send(index, 0, place_ppm(std::clamp<std::int64_t>(place, 0, places - 1), places), {});
      return;
    }
    case HandWay::kToggles:
      send(index, 0, steps > 0 ? kFullTravel : 0, {});
      return;
    case HandWay::kTurns:
      turn(index, steps > 0 ? std::max(1, static_cast<int>(steps))
                            : std::min(-1, static_cast<int>(steps)));
      return;
    case HandWay::kPresses:
      return;
  }
}

void Hands::wheel(const Point& at, float notches, const Modifiers& modifiers) {
  const auto found = control_at(at);
  if (found && notches != 0) step(found->part.index, notches, modifiers.fine);
}

void Hands::double_click(const Point& at) {
  const auto found = control_at(at);
  if (found && control(found->part.index).kind == ControlKind::kPot)
    send(found->part.index, 0, kFullTravel / 2, milliseconds(120));
}

void Hands::hover(std::optional<Point> at) {
  hovered_.reset();
  if (!at || face_ == nullptr) return;
  if (const auto found = hit(*face_, *at)) hovered_ = found->part;
}

bool Hands::press(PointerId pointer, const Point& at, const Modifiers& modifiers) {
  const auto found = control_at(at);
  if (!found) return false;
  Grab grab;
  grab.last = at;
  grab.control = found->part.index;
  begin_grab(grab, *found, modifiers);
  grabs_[pointer] = grab;
  return true;
}

void Hands::begin_grab(Grab& grab, const FaceHit& found, const Modifiers& modifiers) {
  const ControlDescription& held = control(grab.control);
  grab.start_ppm = way_of(held) == HandWay::kTurns ? 0 : position(grab.control, 0);
  grab.virtual_at = found.from_middle;
  switch (held.kind) {
    case ControlKind::kButton:
      if (modifiers.wedge) {
        set_wedge(grab.control, !wedged(grab.control));
      } else {
        grab.presses = true;
        set_pressed(grab.control, 0, true);
      }
      break;
    case ControlKind::kSwitch:
      send(grab.control, 0, grab.start_ppm >= kFullTravel / 2 ? 0 : kFullTravel, {});
      break;
    case ControlKind::kStick: {
      const Point ball = handle_at(held, position(grab.control, 0), position(grab.control, 1));
      if (modifiers.wedge && held.stick.presses) set_wedge(grab.control, !wedged(grab.control));
      grab.virtual_at = ball;
      break;
    }
    case ControlKind::kPot:
      grab.by_angle = is_rotary(held) && length_of(found.from_middle) > kByAngleMm;
      if (!is_rotary(held)) grab.virtual_at = handle_at(held, grab.start_ppm);
      break;
    case ControlKind::kEncoder:
    case ControlKind::kSelector:
      grab.by_angle = length_of(found.from_middle) > kByAngleMm / 2;
      break;
    case ControlKind::kSensor:
      break;
  }
}

void Hands::move(PointerId pointer, const Point& at, const Modifiers& modifiers) {
  const auto grab = grabs_.find(pointer);
  if (grab == grabs_.end() || panel() == nullptr) return;
  const Point moved = at - grab->second.last;
  if (moved == Point{}) return;
  if (length_of(at - middle_of(grab->second.control) - grab->second.virtual_at) > kMovedMm ||
      length_of(moved) > kMovedMm)
    grab->second.moved = true;
  drag(grab->second, at, modifiers.fine);
  grab->second.last = at;
}

void Hands::drag(Grab& grab, const Point& at, bool fine) {
  const ControlDescription& held = control(grab.control);
  const Point moved = at - grab.last;
  const float share = fine ? kFineShare : 1.0F;
  if (held.kind == ControlKind::kStick) {
    grab.virtual_at = grab.virtual_at + Point{moved.x * share, moved.y * share};
    send(grab.control, 0, ppm_at(held, 0, grab.virtual_at), kBetweenFrames);
    send(grab.control, 1, ppm_at(held, 1, grab.virtual_at), kBetweenFrames);
  } else if (held.kind == ControlKind::kPot && !is_rotary(held)) {
    grab.virtual_at = grab.virtual_at + Point{moved.x * share, moved.y * share};
    send(grab.control, 0, ppm_at(held, 0, grab.virtual_at), kBetweenFrames);
  } else if (held.kind == ControlKind::kPot || held.kind == ControlKind::kEncoder ||
             held.kind == ControlKind::kSelector) {
    drag_round(grab, at, fine);
  }
}

// What turns: by the angle round its middle, or from near the middle by going up and down.
void Hands::drag_round(Grab& grab, const Point& at, bool fine) {
  const ControlDescription& held = control(grab.control);
  const Point middle = middle_of(grab.control);
  const float sweep =
      held.kind == ControlKind::kPot       ? static_cast<float>(held.pot.travel) / 1'000.0F
      : held.kind == ControlKind::kEncoder ? 360.0F
                                           : pointer_deg(held, kFullTravel) - pointer_deg(held, 0);
  float degrees = (grab.last.y - at.y) / kWholeTravelMm * std::max(sweep, 90.0F);
  if (grab.by_angle) {
    degrees = degrees_of(at - middle) - degrees_of(grab.last - middle);
    degrees -= 360.0F * std::round(degrees / 360.0F);
  }
  grab.turned += degrees * (fine ? kFineShare : 1.0F);
  if (held.kind == ControlKind::kEncoder) {
    const float detents = static_cast<float>(held.encoder.detents);
    const int clicks = static_cast<int>(grab.turned / 360.0F * detents);
    grab.turned -= static_cast<float>(clicks) * 360.0F / detents;
    turn(grab.control, clicks);
    return;
  }
  if (sweep <= 0) return;
  const double ppm = grab.start_ppm + static_cast<double>(grab.turned / sweep) * kFullTravel;
  const auto held_to = static_cast<std::int32_t>(std::clamp(ppm, 0.0, 1.0 * kFullTravel));
  if (held.kind == ControlKind::kSelector) {
    const std::int64_t places = held.selector.places;
    const std::int32_t goal = place_ppm(place_at(held_to, places), places);
    if (goal != position(grab.control, 0)) send(grab.control, 0, goal, {});
  } else {
    send(grab.control, 0, held_to, kBetweenFrames);
  }
}

void Hands::release(PointerId pointer) {
  const auto found = grabs_.find(pointer);
  if (found == grabs_.end()) return;
  const Grab grab = found->second;
  if (panel() != nullptr) end_grab(grab);
  grabs_.erase(found);
}

void Hands::end_grab(const Grab& grab) {
  const ControlDescription& held = control(grab.control);
  if (grab.presses) set_pressed(grab.control, 0, false);
  if (held.kind == ControlKind::kStick) spring_back(grab.control);
  if (held.kind == ControlKind::kSelector && !grab.moved)
    step(grab.control, grab.last.x >= middle_of(grab.control).x ? 1.0F : -1.0F, false);
}

void Hands::spring_back(std::uint16_t index) {
  if (!control(index).stick.springs) return;
  for (std::uint8_t part = 0; part < kStickPress; ++part)
    send(index, part, rest_ppm(control(index), part), kSpringBack);
}

void Hands::let_go() {
  while (!grabs_.empty()) release(grabs_.begin()->first);
  let_go_keys();
}

std::vector<Wish> Hands::take_wishes() {
  return std::exchange(wishes_, {});
}

FaceMarks Hands::marks() const {
  FaceMarks marks;
  if (panel() == nullptr) return marks;
  const std::size_t controls = panel()->controls.size();
  marks.resize(controls + panel()->outputs.size());
  if (hovered_) {
    const std::size_t place = hovered_->index + (hovered_->output ? controls : 0);
    if (place < marks.size()) marks[place].hovered = true;
  }
  if (focus_ && *focus_ < controls) marks[*focus_].focused = true;
  for (const auto& [pointer, grab] : grabs_) marks[grab.control].grabbed = true;
  for (const auto& [key, steady] : steady_) marks[steady.target.control].grabbed = true;
  for (const HandTarget& target : pressed_) marks[target.control].pressed = true;
  for (std::uint16_t index = 0; index < controls; ++index) {
    marks[index].wedged = wedged(index);
    if (marks[index].wedged) marks[index].pressed = true;
  }
  return marks;
}

}  // namespace understudy
