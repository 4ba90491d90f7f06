// How one number went over a whole recording, however long: least, greatest and how many in equal
// spans of time, which double whenever they would become too many. For charts.
#pragma once

#include <cstddef>
#include <cstdint>
#include <limits>
#include <vector>

#include "sim/base/time.h"

namespace understudy {

// Numbers are kept as floats: whole ones up to 2^24 are exact.
struct TraceSpan {
  float least = std::numeric_limits<float>::infinity();  // above `most`: no number came
  float most = -std::numeric_limits<float>::infinity();
  std::uint32_t count = 0;
};

// A value of at most 12 bytes for each span. Times never go back.
class Trace {
 public:
  Trace() = default;
  // REQUIRES: spans_max >= 2
  explicit Trace(std::size_t spans_max) : spans_max_(spans_max) {}

  void add(Instant t, double number) {
    if (t >= span_end_) turn_to(t);
    TraceSpan& span = spans_.back();
    const auto value = static_cast<float>(number);
    if (value < span.least) span.least = value;
    if (value > span.most) span.most = value;
    ++span.count;
  }

  [[nodiscard]] Instant begin() const { return begin_; }
  [[nodiscard]] Duration span_length() const { return span_length_; }
  [[nodiscard]] const std::vector<TraceSpan>& spans() const { return spans_; }

 private:
  void turn_to(Instant t);
  void halve();

  std::size_t spans_max_ = 4'096;
  std::vector<TraceSpan> spans_;
  Instant begin_;
  Duration span_length_ = milliseconds(1);
  Instant span_end_{std::numeric_limits<std::int64_t>::min()};  // of the last one
};

}  // namespace understudy
