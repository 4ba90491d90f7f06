// The curves of a hand's movement.
#include "sim/controls/gesture.h"

#include <algorithm>

namespace understudy {

double minimum_jerk(double s) {
  return s * s * s * (10.0 - 15.0 * s + 6.0 * s * s);
}

void Gesture::move(Instant t, std::int32_t to_ppm, Duration duration, Curve curve) {
  set_out(t, std::clamp(to_ppm, 0, kFullTravel), duration, curve);
}

void Gesture::turn(Instant t, std::int32_t by_ppm, Duration duration, Curve curve) {
  constexpr std::int32_t kLegMost = kTurnedMost / 2;
  if (to_ppm_ > kLegMost || to_ppm_ < -kLegMost) {
    const std::int32_t whole_turns = to_ppm_ / kWholeTurn * kWholeTurn;
    from_ppm_ -= whole_turns;
    to_ppm_ -= whole_turns;
  }
  set_out(t, to_ppm_ + std::clamp(by_ppm, -kLegMost, kLegMost), duration, curve);
}

void Gesture::set_out(Instant t, std::int32_t to_ppm, Duration duration, Curve curve) {
  from_ppm_ = position_ppm(t);
  to_ppm_ = to_ppm;
  begins_ = t;
  ends_ = curve == Curve::kAtOnce ? t : t + std::clamp(duration, Duration{}, kGestureLengthMax);
  curve_ = curve;
}

std::int32_t Gesture::position_under_way(Instant t) const {
  const double s =
      static_cast<double>((t - begins_).ns) / static_cast<double>((ends_ - begins_).ns);
  const double way = curve_ == Curve::kMinimumJerk ? minimum_jerk(s) : s;
  const double moved = way * (static_cast<double>(to_ppm_) - static_cast<double>(from_ppm_));
  return from_ppm_ + static_cast<std::int32_t>(moved < 0 ? moved - 0.5 : moved + 0.5);
}

// The curves never turn back, so halving finds the moment.
Instant Gesture::reached(std::int32_t ppm) const {
  const bool rises = to_ppm_ >= from_ppm_;
  const auto there = [&](Instant t) {
    const std::int32_t at = position_ppm(t);
    return rises ? at >= ppm : at <= ppm;
  };
  Instant before = begins_;
  Instant after = ends_;
  if (there(before)) return before;
  while ((after - before).ns > 1) {
    const Instant middle = before + (after - before) / 2;
    (there(middle) ? after : before) = middle;
  }
  return after;
}

}  // namespace understudy
