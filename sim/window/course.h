// How one number went over the last ten minutes: a value that holds until the next, kept as least
// and greatest per bucket of 10 ms, so that a chart of any span is drawn from its columns. Bounded:
// at most 480 KB, and next to nothing while the value rests.
#pragma once

#include <cstdint>
#include <memory>
#include <optional>
#include <vector>

#include "sim/base/time.h"

namespace understudy {

inline constexpr Duration kBucketLength = milliseconds(10);
inline constexpr Duration kCourseLength = seconds(600);

// All values that were taken or held in some time. Kept as floats: whole numbers up to 2^24 are
// exact, larger ones rounded to the nearest float.
struct Extremes {
  float least = 0;
  float most = 0;
  friend bool operator==(const Extremes&, const Extremes&) = default;
};

// A value type. Times handed in never go back (one that does counts as the newest).
class Course {
 public:
  void add(Instant t, std::int64_t number);
  // Nobody knows the value from t on; until the next add().
  void interrupt(Instant t);

  [[nodiscard]] bool empty() const { return first_bucket_ < 0; }
  // The newest value.
  [[nodiscard]] std::int64_t newest() const { return newest_; }
  // Over whole buckets [first, first + count) counted from time 0; none where nothing was known.
  // The newest value is held up to `now`'s bucket.
  [[nodiscard]] std::optional<Extremes> over(std::int64_t first, std::int64_t count,
                                             Instant now) const;
  [[nodiscard]] std::size_t memory_bytes() const;

  static std::int64_t bucket_of(Instant t) { return t.ns / kBucketLength.ns; }

 private:
  static constexpr std::int64_t kPageBuckets = 1'000;
  static constexpr std::int64_t kPages = kCourseLength.ns / kBucketLength.ns / kPageBuckets + 1;
  // Ten seconds: one pair where it rested all the time, else one for each bucket.
  struct Page {
    std::int64_t number = -1;
    bool known = false;  // only while `buckets` is empty
    Extremes rest;
    std::vector<Extremes> buckets;
  };
  Page& page_at(std::int64_t bucket);
  [[nodiscard]] const Page* page_of(std::int64_t bucket) const;
  void hold_until(std::int64_t bucket);
  void fill(std::int64_t from, std::int64_t to);
  void include(std::int64_t bucket, float value);

  std::vector<Page> pages_;
  std::int64_t first_bucket_ = -1;
  std::int64_t last_bucket_ = -1;  // the one that is being filled
  std::int64_t newest_ = 0;
  bool known_ = false;
};

}  // namespace understudy
