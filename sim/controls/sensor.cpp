// The courses, in whole numbers from the table on.
#include "sim/controls/sensor.h"

#include <algorithm>

namespace understudy {
namespace {

constexpr std::int64_t kSinePoints = 1'024;
constexpr std::int64_t kWhole = 1'000'000;
constexpr double kPi = 3.14159265358979323846;

// The series of the sine; x in [0, pi / 2].
double sine_of(double x) {
  double term = x;
  double sum = x;
  for (int n = 1; n < 12; ++n) {
    term *= -x * x / ((2 * n) * (2 * n + 1));
    sum += term;
  }
  return sum;
}

}  // namespace

std::vector<std::int32_t> sine_table() {
  constexpr std::int64_t kQuarter = kSinePoints / 4;
  std::vector<std::int32_t> table(kSinePoints);
  for (std::int64_t n = 0; n <= kQuarter; ++n) {
    const double value = sine_of(kPi * 2.0 * static_cast<double>(n) / kSinePoints);
    const auto millionths = static_cast<std::int32_t>(value * 1e6 + 0.5);
    table[static_cast<std::size_t>(n)] = millionths;
    table[static_cast<std::size_t>(2 * kQuarter - n)] = millionths;
    table[static_cast<std::size_t>((2 * kQuarter + n) % kSinePoints)] = -millionths;
    table[static_cast<std::size_t>((4 * kQuarter - n) % kSinePoints)] = -millionths;
  }
  return table;
}

SensorPlan::SensorPlan(const SensorPart& part) : part_(part) {
  if (part_.course == SensorCourse::kSine) sine_ = sine_table();
}

std::int64_t SensorPlan::share_ppm(Instant t) const {
  std::int64_t share = part_.level_ppm;
  if (part_.course == SensorCourse::kSine) {
    const std::int64_t in_period = t.ns % part_.period.ns;
    const auto point =
        static_cast<std::size_t>(static_cast<__int128>(in_period) * kSinePoints / part_.period.ns);
    share += part_.swing_ppm * sine_[point] / kWhole;
  } else if (part_.course == SensorCourse::kValues && !part_.values_ppm.empty()) {
    const auto passed = static_cast<std::size_t>(t.ns / part_.every.ns);
    share = part_.values_ppm[passed % part_.values_ppm.size()];
  }
  return std::clamp<std::int64_t>(share, 0, kWhole);
}

std::int64_t SensorState::share_ppm(Instant t, const SensorPlan& plan) {
  if (plan.part().course != SensorCourse::kWalk) return plan.share_ppm(t);
  const auto passed = static_cast<std::uint64_t>(t.ns / plan.part().every.ns);
  while (walk_.count() < passed) take_step(plan.part().step_ppm);
  return walked_ppm_;
}

// One draw a step, so the count of draws is the count of steps.
void SensorState::take_step(std::int64_t step_ppm) {
  const std::int64_t step = walk_.gaussian_micro() * step_ppm / kWhole;
  std::int64_t next = walked_ppm_ + std::clamp(step, -kWhole, kWhole);
  if (next < 0) next = -next;
  if (next > kWhole) next = 2 * kWhole - next;
  walked_ppm_ = next;
}

}  // namespace understudy
