// The curves of a hand's movement.
#include "sim/controls/gesture.h"

#include <algorithm>

namespace understudy {

double minimum_jerk(double s) {
  return s * s * s * (10.0 - 15.0 * s + 6.0 * s * s);
}

void Gesture::move(Instant t, std::int32_t to_ppm, Duration duration, Curve curve) {
  from_ppm_ = position_ppm(t);
  to_ppm_ = std::clamp(to_ppm, 0, kFullTravel);
  begins_ = t;
  ends_ = curve == Curve::kAtOnce ? t : t + std::clamp(duration, Duration{}, kGestureLengthMax);
  curve_ = curve;
}

std::int32_t Gesture::position_under_way(Instant t) const {
  const double s =
      static_cast<double>((t - begins_).ns) / static_cast<double>((ends_ - begins_).ns);
  const double way = curve_ == Curve::kMinimumJerk ? minimum_jerk(s) : s;
  const double moved = way * static_cast<double>(to_ppm_ - from_ppm_);
  return from_ppm_ + static_cast<std::int32_t>(moved < 0 ? moved - 0.5 : moved + 0.5);
}

}  // namespace understudy
