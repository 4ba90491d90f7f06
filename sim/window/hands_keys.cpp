// What keys do: those that the panel file gives to controls, and those for the control that has the
// focus. A key that is held moves a slide steadily and an encoder click by click.
#include <algorithm>
#include <cctype>

#include "sim/model/kinds.h"
#include "sim/window/hands.h"

namespace understudy {
namespace {

constexpr double kTravelSeconds = 1.2;  // from end to end, held down (our choice)
constexpr double kClickSeconds = 0.15;
constexpr double kFineShare = 0.1;
constexpr Duration kStepLength = milliseconds(20);
constexpr std::uint8_t kStickPress = 2;

bool same(std::string_view one, std::string_view other) {
  return std::equal(one.begin(), one.end(), other.begin(), other.end(), [](char a, char b) {
    return std::tolower(static_cast<unsigned char>(a)) ==
           std::tolower(static_cast<unsigned char>(b));
  });
}

// Where a key pushes a stick: x to the right is more, y up is more.
std::optional<std::pair<std::uint8_t, int>> push_of(std::string_view what) {
  if (what == "more") return std::pair{std::uint8_t{0}, 1};
  if (what == "less") return std::pair{std::uint8_t{0}, -1};
  if (what == "up") return std::pair{std::uint8_t{1}, 1};
  if (what == "down") return std::pair{std::uint8_t{1}, -1};
  return std::nullopt;
}

}  // namespace

bool Hands::key(std::string_view name, bool down, const Modifiers& modifiers) {
  if (panel() == nullptr) return false;
  const std::string key(name);
  if (down && held_.contains(key)) return true;  // a keyboard repeats; a hand does not
  const bool known = key_of_panel(key, down, modifiers) || key_of_focus(key, down, modifiers);
  if (!down) {
    held_.erase(key);
    steady_.erase(key);
  } else if (known) {
    held_.insert(key);
  }
  return known;
}

bool Hands::key_of_panel(const std::string& name, bool down, const Modifiers& modifiers) {
  bool known = false;
  for (std::uint16_t index = 0; index < panel()->controls.size(); ++index) {
    const HandKeys& keys = control(index).keys;
    const std::pair<std::string_view, const std::string*> all[] = {
        {"hold", &keys.hold}, {"toggle", &keys.toggle}, {"more", &keys.more},
        {"less", &keys.less}, {"up", &keys.up},         {"down", &keys.down}};
    for (const auto& [what, given] : all) {
      if (given->empty() || !same(*given, name)) continue;
      known = true;
      // A key that is let go without having been pressed here was meant for somebody else.
      if (down || held_.contains(name)) obey_key(index, what, name, down, modifiers.fine);
    }
  }
  return known;
}

void Hands::obey_key(std::uint16_t index, std::string_view what, const std::string& name, bool down,
                     bool fine) {
  const ControlDescription& moved = control(index);
  if (what == "hold") {
    const std::uint8_t part = moved.kind == ControlKind::kStick ? kStickPress : 0;
    if (part < hand_parts(moved).size()) set_pressed(index, part, down);
  } else if (what == "toggle") {
    if (down) send(index, 0, position(index, 0) >= kFullTravel / 2 ? 0 : kFullTravel, {});
  } else if (const auto push = push_of(what); push && moved.kind == ControlKind::kStick) {
    const std::int32_t rest = rest_ppm(moved, push->first);
    send(index, push->first, !down ? rest : push->second > 0 ? kFullTravel : 0, kSpringBack);
  } else if (push && down) {
    begin_steady(name, {seat_, index, 0}, push->second, fine);
  }
}

// The first step at once; the rest as long as the key is held.
void Hands::begin_steady(const std::string& name, const HandTarget& target, int direction,
                         bool fine) {
  const ControlDescription& moved = control(target.control);
  if (hand_parts(moved).empty()) return;
  if (hand_parts(moved)[0].way == HandWay::kSlides) {
    steady_[name] = {.target = target,
                     .ppm = static_cast<double>(position(target.control, target.part)),
                     .direction = direction,
                     .fine = fine};
    return;
  }
  step(target.control, static_cast<float>(direction), fine);
  if (hand_parts(moved)[0].way == HandWay::kTurns)
    steady_[name] = {.target = target,
                     .ppm = 0,
                     .direction = direction,
                     .fine = fine,
                     .next_click = seconds_ + 3 * kClickSeconds};
}

void Hands::advance(double seconds) {
  const double passed = std::clamp(seconds - seconds_, 0.0, 0.1);
  seconds_ = seconds;
  if (panel() == nullptr) return;
  for (auto& [name, steady] : steady_) {
    if (steady.target.control >= panel()->controls.size()) continue;
    if (control(steady.target.control).kind == ControlKind::kEncoder) {
      if (seconds < steady.next_click) continue;
      steady.next_click = seconds + kClickSeconds;
      turn(steady.target.control, steady.direction);
      continue;
    }
    const double speed = kFullTravel / kTravelSeconds * (steady.fine ? kFineShare : 1.0);
    const double ppm =
        std::clamp(steady.ppm + steady.direction * speed * passed, 0.0, 1.0 * kFullTravel);
    if (ppm == steady.ppm) continue;
    steady.ppm = ppm;
    send(steady.target.control, steady.target.part, static_cast<std::int32_t>(ppm), kStepLength);
  }
}

void Hands::step_focus(bool backwards) {
  if (panel() == nullptr || face_ == nullptr) return;
  std::vector<const PlacedPart*> order;
  for (const PlacedPart& part : face_->parts)
    if (!part.id.output && !hand_parts(control(part.id.index)).empty()) order.push_back(&part);
  // As one reads: rows of 15 mm, then from the left.
  std::stable_sort(order.begin(), order.end(), [](const PlacedPart* a, const PlacedPart* b) {
    const int row_a = static_cast<int>(a->middle.y / 15.0F);
    const int row_b = static_cast<int>(b->middle.y / 15.0F);
    return row_a != row_b ? row_a < row_b : a->middle.x < b->middle.x;
  });
  if (order.empty()) return focus_.reset();
  const auto count = static_cast<std::ptrdiff_t>(order.size());
  std::ptrdiff_t at = backwards ? count : -1;
  for (std::ptrdiff_t i = 0; i < count; ++i)
    if (focus_ && order[static_cast<std::size_t>(i)]->id.index == *focus_) at = i;
  at += backwards ? -1 : 1;
  if (at < 0 || at >= count) return focus_.reset();
  focus_ = order[static_cast<std::size_t>(at)]->id.index;
}

bool Hands::key_of_focus(const std::string& name, bool down, const Modifiers& modifiers) {
  if (!focus_ || *focus_ >= panel()->controls.size()) return false;
  const std::uint16_t index = *focus_;
  const HandWay way = hand_parts(control(index)).front().way;
  const bool stick = control(index).kind == ControlKind::kStick;
  if (name == "Return" || name == "Space" || name == "Keypad Enter") {
    if (modifiers.wedge) {
      if (down) set_wedge(index, !wedged(index));
    } else if (way == HandWay::kToggles) {
      obey_key(index, "toggle", name, down, false);
    } else if (way == HandWay::kPresses || stick) {
      if (down || held_.contains(name)) obey_key(index, "hold", name, down, false);
    }
    return true;
  }
  static constexpr std::pair<std::string_view, std::string_view> kMoves[] = {
      {"PageUp", "more"}, {"PageDown", "less"}, {"Keypad +", "more"}, {"Keypad -", "less"},
      {"=", "more"},      {"-", "less"},        {"Right", "more"},    {"Left", "less"},
      {"Up", "up"},       {"Down", "down"}};
  for (const auto& [key, what] : kMoves) {
    if (name != key) continue;
    if (down || held_.contains(name)) obey_key(index, what, name, down, modifiers.fine);
    return true;
  }
  if (name != "Home" && name != "End") return false;
  if (down && !stick && way != HandWay::kTurns && way != HandWay::kPresses)
    send(index, 0, name == "End" ? kFullTravel : 0, milliseconds(60));
  return true;
}

void Hands::let_go_keys() {
  if (panel() == nullptr) return;
  const std::set<std::string> held = held_;
  for (const std::string& name : held) key(name, false, {});
  held_.clear();
  steady_.clear();
}

}  // namespace understudy
