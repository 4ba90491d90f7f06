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
constexpr Duration kToMiddle = milliseconds(120);
// A contact stays as it is so long at least, so that a board's program sees it (our choice).
constexpr Duration kLeastPress = milliseconds(10);
constexpr double kSettled = 0.05;      // s after that nothing of it can be waiting any more
constexpr double kViewIsFresh = 0.15;  // s after it was sent, the view knows where a part goes
constexpr float kWheelShare = 0.02F;   // of the travel, a notch
constexpr float kFineShare = 0.1F;
constexpr float kMostNotches = 100;     // at once
constexpr float kNearlyWhole = 0.001F;  // tenths of notches add up to one
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

std::string source_of(PointerId pointer) {
  return "pointer " + std::to_string(pointer);
}

bool is_rotary(const ControlDescription& control) {
  return control.kind == ControlKind::kPot && control.pot.shape == TravelShape::kRotary;
}

}  // namespace

const PanelDescription* Hands::panel() const {
  return panel_ ? &panel_->description : nullptr;
}

const ControlDescription& Hands::control(std::uint16_t index) const {
  return panel()->controls[index];
}

void Hands::see(std::shared_ptr<const SessionView> view, std::size_t seat) {
  std::shared_ptr<const Panel> now;
  if (view && seat < view->seats.size()) {
    const SeatView& shown = view->seats[seat];
    now = shown.panel ? shown.panel : std::shared_ptr<const Panel>(view, &shown.device.panel());
  }
  const bool another = now != panel_ || seat != seat_;
  if (another && panel_) {
    let_go();
    pads_gone();
  }
  view_ = std::move(view);
  panel_ = std::move(now);
  seat_ = static_cast<std::uint16_t>(seat);
  if (!another) return;
  face_ = panel() != nullptr ? geometry_of(*panel()) : FaceGeometry{};
  sent_.clear();
  free_at_.clear();
  hovered_.reset();
  focus_.reset();
  wheel_ = {};
  forget_lost_wedges();
}

void Hands::forget_lost_wedges() {
  if (panel() == nullptr) return;
  std::set<std::string> left = std::exchange(wedges_[seat_], {});
  for (std::uint16_t index = 0; index < panel()->controls.size(); ++index)
    if (left.contains(control(index).name)) set_wedge(index, true);
}

std::int32_t Hands::position(std::uint16_t control, std::uint8_t part) const {
  const auto sent = sent_.find({seat_, control, part});
  if (sent != sent_.end() &&
      (!sent->second.seconds || seconds_ - *sent->second.seconds <= kViewIsFresh))
    return sent->second.ppm;
  const Device& device = view_->seats[seat_].device;
  return control < device.panel().description.controls.size()
             ? device.goal_ppm(control, part)
             : rest_ppm(this->control(control), part);
}

std::optional<FaceHit> Hands::part_at(const Point& at) const {
  if (panel() == nullptr) return std::nullopt;
  return hit(face_, at);
}

std::optional<FaceHit> Hands::control_at(const Point& at) const {
  const std::optional<FaceHit> found = part_at(at);
  if (!found || found->part.output || hand_parts(control(found->part.index)).empty())
    return std::nullopt;
  return found;
}

Point Hands::middle_of(std::uint16_t control) const {
  for (const PlacedPart& part : face_.parts)
    if (!part.id.output && part.id.index == control) return part.middle;
  return {};
}

void Hands::send(std::uint16_t control, std::uint8_t part, std::int32_t to_ppm, Duration length) {
  to_ppm = std::clamp<std::int32_t>(to_ppm, 0, kFullTravel);
  sent_[{seat_, control, part}] = {.ppm = to_ppm};
  const HandAction action = {.control = control,
                             .part = part,
                             .to_ppm = to_ppm,
                             .duration = length,
                             .curve = length.ns == 0 ? Curve::kAtOnce : Curve::kLinear};
  wishes_.emplace_back(
      HandWish{.hands = {TimedHand{{}, seat_, action}}, .instead = true, .seen = panel_});
}

void Hands::put(std::uint16_t index, std::uint8_t part, std::int32_t to_ppm) {
  if (panel() == nullptr || index >= panel()->controls.size()) return;
  const auto parts = hand_parts(control(index));
  if (part >= parts.size() || parts[part].way == HandWay::kTurns) return;
  const bool slides = parts[part].way == HandWay::kSlides;
  send(index, part, to_ppm, slides ? kToMiddle : Duration{});
}

void Hands::turn(std::uint16_t control, int clicks) {
  if (clicks == 0) return;
  const HandAction action = {.control = control,
                             .part = 0,
                             .to_ppm = turn_ppm(clicks, this->control(control).encoder.detents),
                             .duration = kWheelLength,
                             .curve = Curve::kLinear};
  wishes_.emplace_back(
      HandWish{.hands = {TimedHand{{}, seat_, action}}, .instead = false, .seen = panel_});
}

// Several may hold a button down; the last one that lets go lets it up, unless a wedge keeps it.
void Hands::hold(const HandTarget& target, const std::string& source) {
  std::set<std::string>& holders = pressed_[target];
  const bool was_down = !holders.empty() || wedged(target.control);
  holders.insert(source);
  if (!was_down) send(target.control, target.part, kFullTravel, {});
}

void Hands::let_go_source(const std::string& source) {
  for (auto held = pressed_.begin(); held != pressed_.end();) {
    const HandTarget target = held->first;
    const bool let_go = held->second.erase(source) > 0 && held->second.empty();
    held = held->second.empty() ? pressed_.erase(held) : std::next(held);
    if (let_go && !wedged(target.control)) send(target.control, target.part, 0, {});
  }
}

void Hands::set_wedge(std::uint16_t control, bool wedged) {
  if (panel() == nullptr || control >= panel()->controls.size()) return;
  const auto parts = hand_parts(this->control(control));
  for (std::uint8_t part = 0; part < parts.size(); ++part) {
    if (parts[part].way != HandWay::kPresses) continue;
    if (wedged)
      wedges_[seat_].insert(this->control(control).name);
    else
      wedges_[seat_].erase(this->control(control).name);
    if (!pressed_.contains({seat_, control, part}))
      send(control, part, wedged ? kFullTravel : 0, {});
    return;
  }
}

bool Hands::wedged(std::uint16_t control) const {
  const auto seat = wedges_.find(seat_);
  return seat != wedges_.end() && panel() != nullptr && control < panel()->controls.size() &&
         seat->second.contains(this->control(control).name);
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
      const std::int64_t place = place_at(position(index, 0), places) + std::lround(steps);
      send(index, 0, place_ppm(std::clamp<std::int64_t>(place, 0, places - 1), places), {});
      return;
    }
    case HandWay::kToggles:
      send(index, 0, steps > 0 ? kFullTravel : 0, {});
      return;
    case HandWay::kTurns:
      turn(index, static_cast<int>(std::lround(steps)));
      return;
    case HandWay::kPresses:
      return;
  }
}

void Hands::wheel(const Point& at, float notches, const Modifiers& modifiers) {
  const auto found = control_at(at);
  if (!found || notches == 0 || !std::isfinite(notches)) return;
  const std::uint16_t index = found->part.index;
  notches = std::clamp(notches, -kMostNotches, kMostNotches);
  if (way_of(control(index)) == HandWay::kSlides) return step(index, notches, modifiers.fine);
  if (wheel_.control != index || wheel_.notches * notches < 0) wheel_ = {.control = index};
  wheel_.notches += notches;
  const float whole = std::trunc(wheel_.notches + std::copysign(kNearlyWhole, notches));
  wheel_.notches -= whole;
  if (whole != 0) step(index, whole, modifiers.fine);
}

void Hands::double_click(const Point& at) {
  const auto found = control_at(at);
  if (!found) return;
  const std::uint16_t index = found->part.index;
  const ControlDescription& centred = control(index);
  const bool stick = centred.kind == ControlKind::kStick && !centred.stick.springs;
  if (centred.kind != ControlKind::kPot && !stick) return;
  const std::int32_t middle = kFullTravel / 2;
  send(index, 0, middle, kToMiddle);
  if (stick) send(index, 1, middle, kToMiddle);
  for (auto& [pointer, grab] : grabs_) {
    if (grab.control != index) continue;
    grab.start_ppm = middle;
    grab.turned = 0;
    if (!is_rotary(centred)) grab.virtual_at = handle_at(centred, middle, middle);
  }
}

void Hands::hover(std::optional<Point> at) {
  hovered_.reset();
  if (!at) return;
  if (const auto found = part_at(*at)) hovered_ = found->part;
}

bool Hands::press(PointerId pointer, const Point& at, const Modifiers& modifiers) {
  const auto found = control_at(at);
  if (!found) return false;
  if (modifiers.push && control(found->part.index).kind != ControlKind::kStick) return false;
  release(pointer);
  Grab grab;
  grab.last = at;
  grab.control = found->part.index;
  begin_grab(grab, pointer, *found, modifiers);
  grabs_[pointer] = grab;
  return true;
}

void Hands::begin_grab(Grab& grab, PointerId pointer, const FaceHit& found,
                       const Modifiers& modifiers) {
  const ControlDescription& held = control(grab.control);
  grab.start_ppm = way_of(held) == HandWay::kTurns ? 0 : position(grab.control, 0);
  grab.virtual_at = found.from_middle;
  switch (held.kind) {
    case ControlKind::kButton:
      if (modifiers.wedge)
        set_wedge(grab.control, !wedged(grab.control));
      else
        hold({seat_, grab.control, 0}, source_of(pointer));
      break;
    case ControlKind::kSwitch:
      send(grab.control, 0, grab.start_ppm >= kFullTravel / 2 ? 0 : kFullTravel, {});
      break;
    case ControlKind::kStick: {
      const std::int32_t x = position(grab.control, 0);
      const std::int32_t y = position(grab.control, 1);
      const bool top = held.stick.presses && on_ball(held, found.from_middle, x, y);
      if (top && modifiers.wedge)
        set_wedge(grab.control, !wedged(grab.control));
      else if (top && modifiers.push)
        hold({seat_, grab.control, kStickPress}, source_of(pointer));
      grab.leans = !modifiers.push && !(top && modifiers.wedge);
      grab.virtual_at = handle_at(held, x, y);
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
    if (!grab.leans) return;
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
  // Held at the ends: a hand that comes back moves it at once.
  const float share = static_cast<float>(grab.start_ppm) / static_cast<float>(kFullTravel);
  grab.turned = std::clamp(grab.turned, -share * sweep, (1 - share) * sweep);
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
  grabs_.erase(found);
  let_go_source(source_of(pointer));
  if (panel() != nullptr) end_grab(grab);
}

void Hands::end_grab(const Grab& grab) {
  const ControlDescription& held = control(grab.control);
  if (grab.leans) spring_back(grab.control);
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

// What is done at once is done after what was sent for the same part before, so that a tap that
// came as a whole is one, and not forgotten by its own end.
std::vector<Wish> Hands::take_wishes() {
  for (auto& [target, sent] : sent_)
    if (!sent.seconds) sent.seconds = seconds_;
  for (Wish& wish : wishes_) {
    auto* hand = std::get_if<HandWish>(&wish);
    if (hand == nullptr || hand->hands.front().action.duration.ns != 0) continue;
    TimedHand& timed = hand->hands.front();
    const auto [known, first] =
        free_at_.try_emplace({timed.seat, timed.action.control, timed.action.part}, -1.0);
    const double at = std::max(seconds_, known->second);
    hand->instead = seconds_ > known->second + kSettled;
    timed.after.ns = static_cast<std::int64_t>(std::llround((at - seconds_) * 1e9));
    known->second = at + static_cast<double>(kLeastPress.ns) / 1e9;
  }
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
  for (const auto& [target, holders] : pressed_) marks[target.control].pressed = true;
  for (std::uint16_t index = 0; index < controls; ++index) {
    marks[index].wedged = wedged(index);
    if (marks[index].wedged) marks[index].pressed = true;
  }
  return marks;
}

}  // namespace understudy
