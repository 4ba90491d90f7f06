// The columns that a chart is drawn from: the least and greatest value in each, at borders that
// stay where they are in time, so that a curve glides instead of shimmering. No ImGui.
#pragma once

#include <algorithm>
#include <cstdint>

#include "sim/window/course.h"

namespace understudy {

// Buckets in a column, so that no more than one column stands in a pixel.
constexpr std::int64_t column_buckets(Duration span, int pixels) {
  const std::int64_t buckets = span.ns / kBucketLength.ns;
  return std::max<std::int64_t>(1, (buckets + pixels - 1) / std::max(1, pixels));
}

struct ChartColumn {
  double begin_ns = 0;
  double middle_ns = 0;
  bool known = false;
  float least = 0;
  float most = 0;
};

// Gives the columns of (now - span, now] from the oldest on. The course outlives it.
class ChartColumns {
 public:
  ChartColumns(const Course& course, Instant now, Duration span, int pixels)
      : course_(course), now_(now), width_(column_buckets(span, pixels)) {
    const Instant begin = {std::max<std::int64_t>(0, now.ns - span.ns)};
    at_ = Course::bucket_of(begin) / width_ * width_;
  }
  bool next(ChartColumn& column) {
    if (at_ > Course::bucket_of(now_)) return false;
    const auto found = course_.over(at_, width_, now_);
    const auto bucket = static_cast<double>(kBucketLength.ns);
    column = {.begin_ns = static_cast<double>(at_) * bucket,
              .middle_ns = (static_cast<double>(at_) + static_cast<double>(width_) / 2) * bucket,
              .known = found.has_value(),
              .least = found ? found->least : 0,
              .most = found ? found->most : 0};
    at_ += width_;
    return true;
  }

 private:
  const Course& course_;
  Instant now_;
  std::int64_t width_;
  std::int64_t at_ = 0;
};

}  // namespace understudy
