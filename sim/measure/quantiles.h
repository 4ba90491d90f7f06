// Medians, 95th and 99th of many whole numbers in bounded memory: exact for the first thousands,
// afterwards counted in buckets whose middle is off by at most kQuantileErrorMost of the value.
// Model: buckets of equal width within each power of two, as floating-point numbers are spaced
// (Masson, Rim, Lee, "DDSketch", VLDB 2019, has the bound for such sketches).
#pragma once

#include <bit>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <vector>

namespace understudy {

// Half a bucket beside its middle, at the widest: 128 buckets in a power of two.
inline constexpr double kQuantileErrorMost = 1.0 / 256;

// A regular value of at most 64 KB.
class Quantiles {
 public:
  // `value` below 0 counts as 0. REQUIRES: count >= 0
  void add(std::int64_t value, std::int64_t count = 1) {
    if (value < 0) value = 0;
    if (count == 1 && spread_) {
      note(value, 1);
      add_to_bucket(value, 1);
      return;
    }
    add_slowly(value, count);
  }

  [[nodiscard]] std::int64_t count() const { return count_; }
  // By nearest rank: the least of the values that at least this share of all do not exceed; 0.5 is
  // the (lower) median, 0 the least, 1 the greatest. The least and the greatest are always exact.
  // Nothing where there are no values. REQUIRES: 0 <= share <= 1
  [[nodiscard]] std::optional<std::int64_t> at(double share) const;
  [[nodiscard]] std::optional<std::int64_t> median() const { return at(0.5); }
  [[nodiscard]] std::optional<std::int64_t> least() const { return at(0); }
  [[nodiscard]] std::optional<std::int64_t> most() const { return at(1); }
  // The sum of all values, of those above `limit` the limit; as near as at() is.
  [[nodiscard]] double sum_up_to(std::int64_t limit) const;
  // Whether at() gives values that were added, and not middles of buckets.
  [[nodiscard]] bool exact() const { return !spread_; }

 private:
  static constexpr std::size_t kExactMax = 4'096;
  static constexpr int kBits = 7;  // 2^7 buckets in a power of two
  static std::size_t bucket_of(std::int64_t value) {
    const auto bits = static_cast<std::uint64_t>(value);
    if (bits < 2U << kBits) return static_cast<std::size_t>(bits);
    const int shift = std::bit_width(bits) - kBits - 1;
    return (static_cast<std::size_t>(shift) << kBits) + static_cast<std::size_t>(bits >> shift);
  }
  static std::int64_t middle_of(std::size_t bucket);
  void note(std::int64_t value, std::int64_t count) {
    if (count_ == 0 || value < least_) least_ = value;
    if (count_ == 0 || value > most_) most_ = value;
    count_ += count;
  }
  void add_to_bucket(std::int64_t value, std::int64_t count) {
    const std::size_t bucket = bucket_of(value);
    if (bucket >= buckets_.size()) buckets_.resize(bucket + 1);
    buckets_[bucket] += count;
  }
  void add_slowly(std::int64_t value, std::int64_t count);

  std::vector<std::int64_t> values_;   // while it is exact, in the order they came
  std::vector<std::int64_t> buckets_;  // afterwards
  std::int64_t count_ = 0;
  std::int64_t least_ = 0;
  std::int64_t most_ = 0;
  bool spread_ = false;
};

}  // namespace understudy
