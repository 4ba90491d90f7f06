// Spans that double.
#include "sim/measure/trace.h"

#include <algorithm>

#include "sim/base/check.h"

namespace understudy {

void Trace::halve() {
  for (std::size_t i = 0; i < spans_.size(); i += 2) {
    TraceSpan both = spans_[i];
    if (i + 1 < spans_.size()) {
      both.least = std::min(both.least, spans_[i + 1].least);
      both.most = std::max(both.most, spans_[i + 1].most);
      both.count += spans_[i + 1].count;
    }
    spans_[i / 2] = both;
  }
  spans_.resize((spans_.size() + 1) / 2);
  span_length_ = span_length_ * 2;
}

void Trace::turn_to(Instant t) {
  CHECK(spans_max_ >= 2, "a trace has some spans");
  if (spans_.empty()) begin_ = t;
  const auto place_of = [&] { return static_cast<std::size_t>((t - begin_).ns / span_length_.ns); };
  while (place_of() >= spans_max_) halve();
  spans_.resize(std::max(spans_.size(), place_of() + 1));
  const auto spans = static_cast<std::int64_t>(spans_.size());
  const bool last = span_length_.ns > (kNever.ns - begin_.ns) / spans;
  span_end_ = last ? kNever : begin_ + span_length_ * spans;
}

}  // namespace understudy
