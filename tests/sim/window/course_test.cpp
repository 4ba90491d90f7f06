// Courses against brute force: the least and greatest of all values held in a time.
#include "sim/window/course.h"

#include <gtest/gtest.h>

#include <random>

#include "tests/sim/device/device_bench.h"

namespace understudy {
namespace {

struct Sample {
  std::int64_t at_ns = 0;
  std::int64_t number = 0;
  bool known = true;
};

// All that was added, looked through from its beginning: what a step function gives in
// [first, first + count) buckets.
std::optional<Extremes> brute(const std::vector<Sample>& samples, std::int64_t first,
                              std::int64_t count, std::int64_t now_bucket) {
  std::optional<Extremes> found;
  for (std::size_t i = 0; i < samples.size(); ++i) {
    if (!samples[i].known) continue;
    const std::int64_t from = samples[i].at_ns / kBucketLength.ns;
    const bool last = i + 1 == samples.size();
    const std::int64_t to = last ? now_bucket : samples[i + 1].at_ns / kBucketLength.ns;
    if (to < first || from >= first + count) continue;
    const auto value = static_cast<float>(samples[i].number);
    if (!found) found = Extremes{value, value};
    found->least = std::min(found->least, value);
    found->most = std::max(found->most, value);
  }
  return found;
}

TEST(Course, GivesForAnyTimeWhatBruteForceGives) {
  for (unsigned seed = 0; seed < 30; ++seed) {
    std::mt19937 chance(seed);
    const auto below = [&](int n) {
      return static_cast<std::int64_t>(chance() % static_cast<unsigned>(n));
    };
    Course course;
    std::vector<Sample> samples;
    std::int64_t t = below(2'000'000'000);
    std::int64_t value = 500;
    while (t < 500'000'000'000) {
      if (below(200) == 0 && !samples.empty()) {
        course.interrupt({t});
        samples.push_back({t, 0, false});
      } else {
        if (below(3) > 0) value = below(1'024);
        course.add({t}, value);
        samples.push_back({t, value});
      }
      t += below(50) == 0 ? below(40'000) * 1'000'000 : below(60'000'000);
    }
    const std::int64_t now = t / kBucketLength.ns;
    for (int i = 0; i < 300; ++i) {
      const std::int64_t first = below(static_cast<int>(now));
      const std::int64_t count = 1 + below(i % 2 == 0 ? 5 : 5'000);
      EXPECT_EQ(course.over(first, count, {t}), brute(samples, first, count, now))
          << "seed " << seed << ", buckets " << first << " and " << count << " more";
    }
  }
}

TEST(Course, EveryLineOfAThousandASecondCounts) {
  Course course;
  for (std::int64_t ms = 0; ms < 20'000; ++ms) course.add(at_ms(ms), ms == 12'345 ? 1'023 : 100);
  EXPECT_EQ(course.over(1'234, 1, at_ms(20'000)), (Extremes{100, 1'023}));
  EXPECT_EQ(course.over(1'235, 1, at_ms(20'000)), (Extremes{100, 100}));
}

TEST(Course, KeepsTenMinutesInBoundedMemoryAndNextToNothingAtRest) {
  Course busy;
  Course resting;
  for (std::int64_t ms = 0; ms < 1'800'000; ms += 5) {
    busy.add(at_ms(ms), ms / 5 % 2);
    resting.add(at_ms(ms), 7);
  }
  EXPECT_LE(busy.memory_bytes(), 500'000U);
  EXPECT_LE(resting.memory_bytes(), 16'000U);
  const std::int64_t now = 180'000;
  EXPECT_EQ(busy.over(now - 59'000, 10, at_ms(1'800'000)), (Extremes{0, 1}));
  EXPECT_EQ(busy.over(now - 70'000, 10, at_ms(1'800'000)), std::nullopt);
  EXPECT_EQ(resting.over(now - 60'000, 60'000, at_ms(1'800'000)), (Extremes{7, 7}));
}

TEST(Course, NothingIsKnownBeforeTheFirstValueNorAfterNow) {
  Course course;
  EXPECT_EQ(course.over(0, 1'000, at_ms(5)), std::nullopt);
  course.add(at_ms(500), 3);
  EXPECT_EQ(course.over(0, 50, at_ms(900)), std::nullopt);
  EXPECT_EQ(course.over(80, 5, at_ms(900)), (Extremes{3, 3}));
  EXPECT_EQ(course.over(91, 5, at_ms(900)), std::nullopt);
}

}  // namespace
}  // namespace understudy
