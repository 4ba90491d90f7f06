// Slew in whole numbers, and the table of the swing.
#include "sim/board/needle.h"

#include <algorithm>
#include <array>
#include <cstdlib>

namespace understudy {
namespace {

constexpr int kSwingSteps = 256;
constexpr std::int64_t kSwingOne = 1 << 20;
constexpr double kPi = 3.14159265358979323846;
constexpr double kRootOf3 = 1.73205080756887729353;

// With a damping ratio of 1/2, in units of 1 / (undamped frequency), x(u) = 2/sqrt(3) *
// e^(-u/2) * sin(sqrt(3)/2 * u) leaves 0 with speed 1. It is widest at sin = sqrt(3)/2, where the
// phase is pi/3: e^(-pi / (3 sqrt 3)) = 0.546.
constexpr double exp_of_minus(double x) {
  double term = 1.0;
  double sum = 1.0;
  for (int n = 1; n < 24; ++n) {
    term *= -x / n;
    sum += term;
  }
  return sum;
}
constexpr double kWidest = exp_of_minus(kPi / (3.0 * kRootOf3));
// Two whole swings take a phase of 4 pi. As a multiple of (overshoot / slew), in thousandths:
constexpr auto kSwingTimes =
    static_cast<std::int64_t>(1'000.0 * (4.0 * kPi * 2.0 / kRootOf3) / kWidest + 0.5);

// 257 points of the swing over 4 pi of phase, 2^20 at its widest, 0 at both ends.
constexpr std::array<std::int32_t, kSwingSteps + 1> swing_table() {
  constexpr double kStep = 4.0 * kPi / kSwingSteps;
  double sine = 0.0;
  double cosine = 0.0;
  double power = 1.0;  // kStep^n / n!
  for (int n = 0; n < 16; ++n) {
    const double signed_power = n % 4 < 2 ? power : -power;
    if (n % 2 == 0)
      cosine += signed_power;
    else
      sine += signed_power;
    power *= kStep / (n + 1);
  }
  const double fade = exp_of_minus(kStep / kRootOf3);
  std::array<std::int32_t, kSwingSteps + 1> table{};
  double x = 1.0;
  double y = 0.0;
  for (int i = 0; i < kSwingSteps; ++i) {
    const double height = y * (2.0 / kRootOf3) / kWidest * static_cast<double>(kSwingOne);
    table[static_cast<std::size_t>(i)] =
        static_cast<std::int32_t>(height < 0 ? height - 0.5 : height + 0.5);
    const double turned = (x * cosine - y * sine) * fade;
    y = (x * sine + y * cosine) * fade;
    x = turned;
  }
  return table;
}

constexpr std::array<std::int32_t, kSwingSteps + 1> kSwing = swing_table();

// The height of the swing at `past` of `whole`, in 2^-20 of its widest.
std::int64_t swing_at(Duration past, Duration whole) {
  const std::int64_t at = past.ns * kSwingSteps;
  const auto step = static_cast<std::size_t>(at / whole.ns);
  const std::int64_t rest = at % whole.ns;
  const std::int64_t rise = kSwing[step + 1] - kSwing[step];
  return kSwing[step] + rise * rest / whole.ns;
}

}  // namespace

void Needle::set(Instant t, std::int64_t goal_mdeg, const GaugePart& part) {
  const auto goal = static_cast<std::int32_t>(goal_mdeg);
  if (goal == goal_mdeg_) return;
  from_mdeg_ = static_cast<std::int32_t>(angle_mdeg(t));
  goal_mdeg_ = goal;
  begins_ = t;
  const std::int64_t way = std::abs(std::int64_t{goal_mdeg_} - from_mdeg_);
  const std::int64_t slew = part.slew_mdeg_per_s;
  arrives_ = t + Duration{(way * 1'000'000'000 + slew - 1) / slew};
  const std::int64_t beyond = way * part.overshoot_ppm / 1'000'000;
  ends_ = arrives_ + Duration{beyond * 1'000'000 / slew * kSwingTimes};
  const bool swings = ends_ > arrives_;
  const std::int64_t signed_beyond = goal_mdeg_ < from_mdeg_ ? -beyond : beyond;
  swing_mdeg_ = swings ? static_cast<std::int32_t>(signed_beyond) : 0;
}

void Needle::let_go(Instant t) {
  from_mdeg_ = goal_mdeg_ = static_cast<std::int32_t>(angle_mdeg(t));
  begins_ = arrives_ = ends_ = t;
  swing_mdeg_ = 0;
}

std::int64_t Needle::angle_mdeg(Instant t) const {
  if (t >= ends_) return goal_mdeg_;
  if (t < arrives_) {
    const std::int64_t way = std::int64_t{goal_mdeg_} - from_mdeg_;
    return from_mdeg_ + way * (t - begins_).ns / (arrives_ - begins_).ns;
  }
  return goal_mdeg_ + swing_mdeg_ * swing_at(t - arrives_, ends_ - arrives_) / kSwingOne;
}

std::int64_t gauge_goal_mdeg(std::int64_t number, const OutputDescription& gauge) {
  const Sends& takes = gauge.sends;
  const auto [least, most] = std::minmax(takes.low, takes.high);
  if (least == most) return 0;
  const auto share = static_cast<__int128>(std::clamp(number, least, most) - takes.low) *
                     gauge.gauge.sweep_mdeg / (takes.high - takes.low);
  return static_cast<std::int64_t>(share);
}

}  // namespace understudy
