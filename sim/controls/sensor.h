// A sensor that no hand moves: what it measures over time, as a share of its range. Its noise and
// the converter are the board's work.
// Models: a sine; a random walk with Gaussian steps that turns back at both ends; values one after
// the other, each held until the next.
#pragma once

#include <cstdint>
#include <vector>

#include "sim/base/random.h"
#include "sim/base/time.h"
#include "sim/model/panel_description.h"

namespace understudy {

// sin(2 pi n / 1024) in millionths, n in 0..1023; + - * / only, so equal everywhere.
std::vector<std::int32_t> sine_table();

// Constant once made.
class SensorPlan {
 public:
  SensorPlan() = default;
  explicit SensorPlan(const SensorPart& part);
  [[nodiscard]] const SensorPart& part() const { return part_; }
  // The share in ppm of what time alone decides: not of a walk.
  [[nodiscard]] std::int64_t share_ppm(Instant t) const;

 private:
  SensorPart part_;
  std::vector<std::int32_t> sine_;
};

// A regular value. Times handed in never go back.
class SensorState {
 public:
  SensorState() = default;
  SensorState(const SensorPart& part, Stream stream) : walked_ppm_(part.level_ppm), walk_(stream) {}

  // It has been put there at t: a walk begins at its level and steps on the beat that it would have
  // had from power-on. REQUIRES: nothing was drawn yet
  void begin_at(Instant t, const SensorPart& part) {
    if (part.course == SensorCourse::kWalk)
      walk_ = walk_.after(static_cast<std::uint64_t>(t.ns / part.every.ns));
  }

  // In [0, 1'000'000].
  std::int64_t share_ppm(Instant t, const SensorPlan& plan);

  template <class Digest>
  void add_to(Digest& digest) const {
    digest.add(walked_ppm_);
    digest.add(walk_.count());
  }

 private:
  void take_step(std::int64_t step_ppm);
  std::int64_t walked_ppm_ = 0;
  Stream walk_;
};

}  // namespace understudy
