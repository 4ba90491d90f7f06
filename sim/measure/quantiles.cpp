// From values to buckets, and from ranks back to values.
#include "sim/measure/quantiles.h"

#include <algorithm>
#include <cmath>

#include "sim/base/check.h"

namespace understudy {

void Quantiles::add_slowly(std::int64_t value, std::int64_t count) {
  CHECK(count >= 0, "a value is added so many times");
  if (count == 0) return;
  note(value, count);
  if (!spread_ && count_ <= static_cast<std::int64_t>(kExactMax)) {
    values_.insert(values_.end(), static_cast<std::size_t>(count), value);
    return;
  }
  if (!spread_) {
    spread_ = true;
    for (const std::int64_t old : values_) add_to_bucket(old, 1);
    values_ = {};
  }
  add_to_bucket(value, count);
}

std::int64_t Quantiles::middle_of(std::size_t bucket) {
  if (bucket < 2U << kBits) return static_cast<std::int64_t>(bucket);
  const std::size_t shift = (bucket >> kBits) - 1;
  const auto first = static_cast<std::int64_t>((bucket - (shift << kBits)) << shift);
  return first + (std::int64_t{1} << shift) / 2;
}

std::optional<std::int64_t> Quantiles::at(double share) const {
  CHECK(share >= 0 && share <= 1, "a share lies between 0 and 1");
  if (count_ == 0) return std::nullopt;
  const auto rank = static_cast<std::int64_t>(std::ceil(share * static_cast<double>(count_)));
  if (rank <= 1) return least_;
  if (rank >= count_) return most_;
  if (!spread_) {
    std::vector<std::int64_t> sorted = values_;
    const auto wanted = sorted.begin() + (rank - 1);
    std::nth_element(sorted.begin(), wanted, sorted.end());
    return *wanted;
  }
  std::int64_t below = 0;
  for (std::size_t bucket = 0; bucket < buckets_.size(); ++bucket) {
    below += buckets_[bucket];
    if (below >= rank) return std::clamp(middle_of(bucket), least_, most_);
  }
  return most_;
}

double Quantiles::sum_up_to(std::int64_t limit) const {
  double sum = 0;
  for (const std::int64_t value : values_) sum += static_cast<double>(std::min(value, limit));
  for (std::size_t bucket = 0; bucket < buckets_.size(); ++bucket)
    if (buckets_[bucket] > 0)
      sum += static_cast<double>(buckets_[bucket]) *
             static_cast<double>(std::min(middle_of(bucket), limit));
  return sum;
}

}  // namespace understudy
