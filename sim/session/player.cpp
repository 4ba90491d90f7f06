// Idle play and the tour of all controls.
// Numbers of a press and a sweep: common practice (press about 120 ms, sweep 0.3 to 2 s).
#include "sim/session/player.h"

namespace understudy {
namespace {

constexpr Instant kFirstMove{1'000'000'000};
constexpr Duration kSweepLength = milliseconds(800);
constexpr Duration kPressLength = milliseconds(300);
constexpr Duration kPause = milliseconds(200);

Input hand(Instant at, std::uint16_t control, std::int32_t to_ppm, Duration duration) {
  const Curve curve = duration.ns == 0 ? Curve::kAtOnce : Curve::kMinimumJerk;
  return {at,
          HandAction{.control = control, .to_ppm = to_ppm, .duration = duration, .curve = curve}};
}

}  // namespace

std::optional<PlayKind> play_kind(std::string_view word) {
  if (word == "wander") return PlayKind::kWander;
  if (word == "sweep") return PlayKind::kSweep;
  return std::nullopt;
}

Player::Player(PlayKind kind, const Panel& panel, std::uint64_t seed, const std::string& seat)
    : kind_(kind),
      stream_(seed, seat + ".play"),
      next_due_(panel.description.controls.empty() ? kNever : kFirstMove) {}

Input Player::play(const Panel& panel) {
  return kind_ == PlayKind::kWander ? wander(panel) : sweep(panel);
}

// A move of some control every second or so; a pressed button is let go before the next.
Input Player::wander(const Panel& panel) {
  const auto& controls = panel.description.controls;
  if (stage_ == 1) {
    stage_ = 0;
    const Input release = hand(next_due_, control_, 0, {});
    next_due_ = next_due_ + Duration{300'000'000 + 700 * stream_.exponential_micro()};
    return release;
  }
  control_ = static_cast<std::uint16_t>(stream_.below(static_cast<std::int64_t>(controls.size())));
  const Instant now = next_due_;
  switch (controls[control_].kind) {
    case ControlKind::kPot: {
      const Duration length{300'000'000 + stream_.below(1'700'000'000)};
      const auto goal = static_cast<std::int32_t>(stream_.below(kFullTravel + 1));
      next_due_ = now + length + Duration{200 * stream_.exponential_micro()};
      return hand(now, control_, goal, length);
    }
    case ControlKind::kSwitch: {
      const auto goal = static_cast<std::int32_t>(stream_.below(2) * kFullTravel);
      next_due_ = now + Duration{500'000'000 + 1'000 * stream_.exponential_micro()};
      return hand(now, control_, goal, {});
    }
    case ControlKind::kButton:
      break;
  }
  stage_ = 1;
  next_due_ = now + Duration{60'000'000 + stream_.below(200'000'000)};
  return hand(now, control_, kFullTravel, {});
}

// Each control to the high end and back, one after the other, for ever.
Input Player::sweep(const Panel& panel) {
  const auto& controls = panel.description.controls;
  const bool pot = controls[control_].kind == ControlKind::kPot;
  const Duration length = pot ? kSweepLength : Duration{};
  const Input move = hand(next_due_, control_, stage_ == 0 ? kFullTravel : 0, length);
  next_due_ = next_due_ + (pot ? kSweepLength : kPressLength) + kPause;
  if (stage_ == 1) control_ = static_cast<std::uint16_t>((control_ + 1U) % controls.size());
  stage_ = 1 - stage_;
  return move;
}

}  // namespace understudy
