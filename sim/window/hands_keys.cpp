// What keys do: those that the panel file gives to controls, and those for the control that has the
// focus. A key that is held moves a slide steadily and an encoder click by click.
#include <algorithm>
#include <cctype>
#include <cmath>

#include "sim/model/kinds.h"
#include "sim/window/hands.h"

namespace understudy {
namespace {

constexpr double kTravelSeconds = 1.2;  // from end to end, held down (our choice)
constexpr double kClickSeconds = 0.15;
constexpr double kFineShare = 0.1;
constexpr Duration kStepLength = milliseconds(20);
constexpr std::uint8_t kStickPress = 2;

// Where a key pushes a stick: x to the right is more, y up is more.
std::optional<std::pair<std::uint8_t, int>> push_of(std::string_view what) {
  if (what == "more") return std::pair{std::uint8_t{0}, 1};
  if (what == "less") return std::pair{std::uint8_t{0}, -1};
  if (what == "up") return std::pair{std::uint8_t{1}, 1};
  if (what == "down") return std::pair{std::uint8_t{1}, -1};
  return std::nullopt;
}

}  // namespace

std::string key_place(std::string_view name) {
  static constexpr std::string_view kShifted = "!@#$%^&*()_+{}|:\"<>?~";
  static constexpr std::string_view kPlain = "1234567890-=[]\\;',./`";
  static_assert(kShifted.size() == kPlain.size());
  if (name.size() == 1)
    if (const std::size_t at = kShifted.find(name[0]); at != std::string_view::npos)
      return std::string(1, kPlain[at]);
  std::string place(name);
  for (char& letter : place)
    letter = static_cast<char>(std::tolower(static_cast<unsigned char>(letter)));
  return place == "enter" ? "return" : place;
}

bool Hands::key(std::string_view name, bool down, const Modifiers& modifiers) {
  if (panel() == nullptr) return false;
  const std::string key = key_place(name);
  if (!down) {
    // A key that is let go without having been pressed here was meant for somebody else.
    if (held_.erase(key) == 0) return false;
    key_up(key);
    return true;
  }
  if (held_.contains(key)) return true;  // a keyboard repeats; a hand does not
  if (!key_of_panel(key, modifiers) && (modifiers.elsewhere || !key_of_focus(key, modifiers)))
    return false;
  held_.insert(key);
  return true;
}

bool Hands::key_of_panel(const std::string& name, const Modifiers& modifiers) {
  bool known = false;
  for (std::uint16_t index = 0; index < panel()->controls.size(); ++index) {
    const HandKeys& keys = control(index).keys;
    const std::pair<std::string_view, const std::string*> all[] = {
        {"hold", &keys.hold}, {"toggle", &keys.toggle}, {"more", &keys.more},
        {"less", &keys.less}, {"up", &keys.up},         {"down", &keys.down}};
    for (const auto& [what, given] : all) {
      if (given->empty() || key_place(*given) != name) continue;
      known = true;
      obey_key(index, what, name, modifiers.fine);
    }
  }
  return known;
}

void Hands::obey_key(std::uint16_t index, std::string_view what, const std::string& name,
                     bool fine) {
  const ControlDescription& moved = control(index);
  const auto parts = hand_parts(moved);
  if (parts.empty()) return;
  const bool stick = moved.kind == ControlKind::kStick;
  if (what == "hold") {
    const std::uint8_t part = stick ? kStickPress : 0;
    const bool contact = part < parts.size() && (parts[part].way == HandWay::kPresses ||
                                                 parts[part].way == HandWay::kToggles);
    if (contact) hold({seat_, index, part}, "key " + name);
  } else if (what == "toggle") {
    if (parts[0].way == HandWay::kToggles)
      send(index, 0, position(index, 0) >= kFullTravel / 2 ? 0 : kFullTravel, {});
  } else if (const auto push = push_of(what)) {
    const std::uint8_t part = stick ? push->first : 0;
    begin_steady(name, {seat_, index, part}, push->second, fine);
  }
}

// The first step at once; the rest as long as the key is held. One key may move several controls.
void Hands::begin_steady(const std::string& name, const HandTarget& target, int direction,
                         bool fine) {
  const ControlDescription& moved = control(target.control);
  const HandWay way = hand_parts(moved)[target.part].way;
  Steady steady = {.target = target, .direction = direction, .fine = fine};
  const std::string by = name + '\n' + std::to_string(target.control) + '\n' +
                         std::to_string(target.part) + (direction > 0 ? "+" : "-");
  if (way == HandWay::kSlides) {
    const bool leans = moved.kind == ControlKind::kStick && moved.stick.springs;
    steady.way = leans ? Steady::Way::kLeans : Steady::Way::kGlides;
    steady_[by] = steady;
    if (leans) lean(target);
    return;
  }
  step(target.control, static_cast<float>(direction), fine);
  if (way != HandWay::kTurns) return;
  steady.way = Steady::Way::kClicks;
  steady.next_click = seconds_ + 3 * kClickSeconds;
  steady_[by] = steady;
}

void Hands::key_up(const std::string& name) {
  let_go_source("key " + name);
  std::set<HandTarget> leaned;
  std::erase_if(steady_, [&](const auto& one) {
    if (!one.first.starts_with(name + '\n')) return false;
    if (one.second.way == Steady::Way::kLeans) leaned.insert(one.second.target);
    return true;
  });
  for (const HandTarget& target : leaned) lean(target);
  if (steady_.empty()) glides_.clear();
}

// A stick with springs goes where the keys push it; those that push both ways leave it in between.
void Hands::lean(const HandTarget& target) {
  int direction = 0;
  for (const auto& [by, steady] : steady_)
    if (steady.target == target) direction += steady.direction;
  const std::int32_t rest = rest_ppm(control(target.control), target.part);
  send(target.control, target.part,
       direction == 0  ? rest
       : direction > 0 ? kFullTravel
                       : 0,
       kSpringBack);
}

bool Hands::moving() const {
  return std::any_of(steady_.begin(), steady_.end(),
                     [](const auto& one) { return one.second.way != Steady::Way::kLeans; });
}

void Hands::advance(double seconds) {
  const double passed = std::clamp(seconds - seconds_, 0.0, 0.1);
  seconds_ = seconds;
  if (panel() == nullptr) return;
  for (auto& [by, steady] : steady_) {
    if (steady.way != Steady::Way::kClicks || seconds < steady.next_click) continue;
    steady.next_click = seconds + kClickSeconds;
    turn(steady.target.control, steady.direction);
  }
  glide(passed);
}

// Keys that push both ways leave a slide where it is.
void Hands::glide(double passed) {
  std::map<HandTarget, double> pushed;
  for (const auto& [by, steady] : steady_)
    if (steady.way == Steady::Way::kGlides)
      pushed[steady.target] += steady.direction * (steady.fine ? kFineShare : 1.0);
  std::erase_if(glides_, [&](const auto& one) { return !pushed.contains(one.first); });
  for (const auto& [target, direction] : pushed) {
    const auto known = glides_.try_emplace(target, position(target.control, target.part)).first;
    const double by = direction * kFullTravel / kTravelSeconds * passed;
    const double ppm = std::clamp(known->second + by, 0.0, 1.0 * kFullTravel);
    if (ppm == known->second) continue;
    known->second = ppm;
    send(target.control, target.part, static_cast<std::int32_t>(std::lround(ppm)), kStepLength);
  }
}

void Hands::step_focus(bool backwards) {
  if (panel() == nullptr) return;
  std::vector<const PlacedPart*> order;
  for (const PlacedPart& part : face_.parts)
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

bool Hands::key_of_focus(const std::string& name, const Modifiers& modifiers) {
  if (!focus_ || *focus_ >= panel()->controls.size()) return false;
  const std::uint16_t index = *focus_;
  const HandWay way = hand_parts(control(index)).front().way;
  const bool stick = control(index).kind == ControlKind::kStick;
  if (name == "return" || name == "space" || name == "keypad enter") {
    if (modifiers.wedge)
      set_wedge(index, !wedged(index));
    else
      obey_key(index, way == HandWay::kToggles ? "toggle" : "hold", name, false);
    return true;
  }
  static constexpr std::pair<std::string_view, std::string_view> kMoves[] = {
      {"pageup", "more"}, {"pagedown", "less"}, {"keypad +", "more"}, {"keypad -", "less"},
      {"=", "more"},      {"-", "less"},        {"right", "more"},    {"left", "less"},
      {"up", "up"},       {"down", "down"}};
  for (const auto& [key, what] : kMoves) {
    if (name != key) continue;
    obey_key(index, what, name, modifiers.fine);
    return true;
  }
  if (name != "home" && name != "end") return false;
  if (!stick && way != HandWay::kTurns && way != HandWay::kPresses)
    put(index, 0, name == "end" ? kFullTravel : 0);
  return true;
}

void Hands::let_go_keys() {
  for (const std::string& name : std::exchange(held_, {})) key_up(name);
}

}  // namespace understudy
