// Idle play and the tour of all controls.
// Numbers of a press, a sweep, a turn: common practice (press about 120 ms, sweep 0.3 to 2 s, 60 to
// 150 ms from detent to detent, a stick springs back in about 80 ms).
#include "sim/session/player.h"

#include "sim/model/kinds.h"
#include "sim/model/panel_change.h"

namespace understudy {
namespace {

constexpr Instant kFirstMove{1'000'000'000};
constexpr Duration kSweepLength = milliseconds(800);
constexpr Duration kPressLength = milliseconds(300);
constexpr Duration kPause = milliseconds(200);
constexpr Duration kSpringBack = milliseconds(80);
constexpr Duration kClickLength = milliseconds(100);
constexpr std::int64_t kWanderClicksMax = 6;

}  // namespace

std::optional<PlayKind> play_kind(std::string_view word) {
  if (word == "wander") return PlayKind::kWander;
  if (word == "sweep") return PlayKind::kSweep;
  return std::nullopt;
}

Player::Player(PlayKind kind, const Panel& panel, std::uint64_t seed, const std::string& seat)
    : kind_(kind), stream_(seed, seat + ".play"), next_due_(kNever) {
  find_movable(panel);
  if (!movable_.empty()) next_due_ = kFirstMove;
}

// The first of them comes next.
void Player::find_movable(const Panel& panel) {
  movable_.clear();
  const auto& controls = panel.description.controls;
  for (std::size_t i = 0; i < controls.size(); ++i)
    if (!hand_parts(controls[i]).empty()) movable_.push_back(static_cast<std::uint16_t>(i));
  moved_ = movable_.size() - 1;
}

void Player::reload(Instant t, const Panel& panel, const Panel& before) {
  const auto& controls = panel.description.controls;
  const bool rested = next_due_ == kNever;
  const ControlDescription* moved =
      rested ? nullptr
             : same_control(before.description.controls[movable_[moved_]], panel.description);
  find_movable(panel);
  for (std::size_t i = 0; moved != nullptr && i < movable_.size(); ++i)
    if (&controls[movable_[i]] == moved) moved_ = i;
  std::vector<Input> kept;
  for (const Input& input : planned_)
    if (const auto hand =
            hand_on(panel.description, std::get<HandAction>(input.what), before.description))
      kept.push_back({input.at, *hand});
  planned_ = std::move(kept);
  if (movable_.empty())
    next_due_ = kNever;
  else if (rested)
    next_due_ = later(kFirstMove, t);
  else
    next_due_ = planned_.empty() ? later(free_, next_due_) : planned_.front().at;
}

Input Player::play(const Panel& panel) {
  if (planned_.empty()) {
    moved_ =
        kind_ == PlayKind::kWander
            ? static_cast<std::size_t>(stream_.below(static_cast<std::int64_t>(movable_.size())))
            : (moved_ + 1) % movable_.size();
    const ControlDescription& control = panel.description.controls[movable_[moved_]];
    if (kind_ == PlayKind::kWander)
      wander(control);
    else
      sweep(control);
  }
  const Input now = planned_.front();
  planned_.erase(planned_.begin());
  next_due_ = planned_.empty() ? free_ : planned_.front().at;
  return now;
}

void Player::plan(Instant at, std::uint8_t part, std::int32_t to_ppm, Duration duration) {
  planned_.push_back(
      {at, HandAction{.control = movable_[moved_],
                      .part = part,
                      .to_ppm = to_ppm,
                      .duration = duration,
                      .curve = duration.ns == 0 ? Curve::kAtOnce : Curve::kMinimumJerk}});
}

// Evenly, as fingers turn a knob.
void Player::plan_turn(Instant at, std::int64_t clicks, std::int64_t detents, Duration duration) {
  planned_.push_back({at, HandAction{.control = movable_[moved_],
                                     .to_ppm = turn_ppm(clicks, detents),
                                     .duration = duration,
                                     .curve = Curve::kLinear}});
}

// A move of some control every second or so; what springs back is let go before the next.
void Player::wander(const ControlDescription& control) {
  const Instant now = next_due_;
  switch (control.kind) {
    case ControlKind::kPot: {
      const Duration length{300'000'000 + stream_.below(1'700'000'000)};
      plan(now, 0, static_cast<std::int32_t>(stream_.below(kFullTravel + 1)), length);
      free_ = now + length + Duration{200 * stream_.exponential_micro()};
      return;
    }
    case ControlKind::kSwitch:
      plan(now, 0, static_cast<std::int32_t>(stream_.below(2) * kFullTravel), {});
      free_ = now + Duration{500'000'000 + 1'000 * stream_.exponential_micro()};
      return;
    case ControlKind::kButton: {
      const Duration held{60'000'000 + stream_.below(200'000'000)};
      plan(now, 0, kFullTravel, {});
      plan(now + held, 0, 0, {});
      free_ = now + held + Duration{300'000'000 + 700 * stream_.exponential_micro()};
      return;
    }
    case ControlKind::kSelector: {
      const std::int64_t place = stream_.below(control.selector.places);
      const Duration length{150'000'000 + stream_.below(350'000'000)};
      plan(now, 0, place_ppm(place, control.selector.places), length);
      free_ = now + length + Duration{500'000'000 + 1'000 * stream_.exponential_micro()};
      return;
    }
    case ControlKind::kStick:
      return wander_stick(control);
    case ControlKind::kEncoder: {
      const std::int64_t size = 1 + stream_.below(kWanderClicksMax);
      const std::int64_t clicks = stream_.below(2) == 0 ? size : -size;
      const Duration length = Duration{60'000'000 + stream_.below(90'000'000)} * size;
      plan_turn(now, clicks, control.encoder.detents, length);
      free_ = now + length + Duration{300'000'000 + 700 * stream_.exponential_micro()};
      return;
    }
    case ControlKind::kSensor:
      return;  // is not among the movable ones
  }
}

// Somewhere and back, or now and then a press where it lies.
void Player::wander_stick(const ControlDescription& control) {
  const Instant now = next_due_;
  const Duration pause{300'000'000 + 700 * stream_.exponential_micro()};
  const Duration held{60'000'000 + stream_.below(200'000'000)};
  if (control.stick.presses && stream_.below(4) == 0) {
    plan(now, 2, kFullTravel, {});
    plan(now + held, 2, 0, {});
    free_ = now + held + pause;
    return;
  }
  const Duration length{100'000'000 + stream_.below(300'000'000)};
  for (const std::uint8_t part : {std::uint8_t{0}, std::uint8_t{1}})
    plan(now, part, static_cast<std::int32_t>(stream_.below(kFullTravel + 1)), length);
  Instant end = now + length;
  if (control.stick.springs) {
    end = end + held * (1 + stream_.below(8));
    for (const std::uint8_t part : {std::uint8_t{0}, std::uint8_t{1}})
      plan(end, part, rest_ppm(control, part), kSpringBack);
    end = end + kSpringBack;
  }
  free_ = end + pause;
}

// Through all that it can be, and back; one control after the other, for ever.
void Player::sweep(const ControlDescription& control) {
  Instant at = next_due_;
  const auto then = [&at](Duration length) { at = at + length + kPause; };
  switch (control.kind) {
    case ControlKind::kPot:
      for (const std::int32_t end : {kFullTravel, 0}) {
        plan(at, 0, end, kSweepLength);
        then(kSweepLength);
      }
      break;
    case ControlKind::kButton:
    case ControlKind::kSwitch:
      for (const std::int32_t end : {kFullTravel, 0}) {
        plan(at, 0, end, {});
        then(kPressLength);
      }
      break;
    case ControlKind::kSelector:
      for (std::int64_t i = 1; i <= control.selector.places; ++i) {
        plan(at, 0, place_ppm(i % control.selector.places, control.selector.places), {});
        then(kPressLength);
      }
      break;
    case ControlKind::kStick:
      return sweep_stick(control);
    case ControlKind::kEncoder:
      for (const std::int64_t turn : {1, -1}) {
        const Duration length = kClickLength * control.encoder.detents;
        plan_turn(at, turn * control.encoder.detents, control.encoder.detents, length);
        then(length);
      }
      break;
    case ControlKind::kSensor:
      break;
  }
  free_ = at;
}

// Each way to both ends and back to where it rests; then a press.
void Player::sweep_stick(const ControlDescription& control) {
  Instant at = next_due_;
  for (const std::uint8_t part : {std::uint8_t{0}, std::uint8_t{1}}) {
    for (const std::int32_t goal : {kFullTravel, 0, rest_ppm(control, part)}) {
      plan(at, part, goal, kSweepLength);
      at = at + kSweepLength + kPause;
    }
  }
  if (control.stick.presses) {
    for (const std::int32_t end : {kFullTravel, 0}) {
      plan(at, 2, end, {});
      at = at + kPressLength + kPause;
    }
  }
  free_ = at;
}

}  // namespace understudy
