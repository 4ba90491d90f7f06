// Streams: keyed by name, counted by themselves, even in their range. Their distributions are held
// to closed forms in tests/reference/.
#include "sim/base/random.h"

#include <gtest/gtest.h>

#include <set>

namespace understudy {
namespace {

TEST(Stream, ACopyGoesOnWithTheSameDraws) {
  Stream a(1, "control.power.noise");
  a.bits();
  Stream b = a;
  for (int i = 0; i < 100; ++i) EXPECT_EQ(a.gaussian_micro(), b.gaussian_micro());
  EXPECT_EQ(a.count(), b.count());
}

TEST(Stream, OtherNamesAndOtherSeedsGiveOtherDraws) {
  std::set<std::uint64_t> firsts;
  for (const char* name : {"", "a", "b", "ab", "ba", "a.b", "control.a", "control.b"})
    for (std::uint64_t seed = 0; seed < 100; ++seed) firsts.insert(Stream(seed, name).bits());
  EXPECT_EQ(firsts.size(), 800U);
}

TEST(Stream, BetweenHasBothEndsAndNothingBeyond) {
  Stream stream(1, "dice");
  std::set<std::int64_t> seen;
  for (int i = 0; i < 1'000; ++i) seen.insert(stream.between(-2, 3));
  EXPECT_EQ(seen, (std::set<std::int64_t>{-2, -1, 0, 1, 2, 3}));
}

TEST(Stream, AChanceOfNothingNeverComesAndOfOneAlwaysAndEachTakesOneDraw) {
  Stream stream(1, "chance");
  int hits = 0;
  for (int i = 0; i < 1'000; ++i) {
    EXPECT_FALSE(stream.chance({0, 7}));
    EXPECT_TRUE(stream.chance({7, 7}));
    hits += stream.chance({1, 4}) ? 1 : 0;
  }
  EXPECT_EQ(stream.count(), 3'000U);
  EXPECT_NEAR(hits, 250, 4 * 13.7);
}

TEST(Stream, DeviatesAreSmoothAcrossTheBordersOfTheirTable) {
  Stream stream(1, "smooth");
  std::int64_t largest = 0;
  for (int i = 0; i < 1'000'000; ++i) {
    const std::int64_t z = stream.gaussian_micro();
    largest = std::max(largest, z < 0 ? -z : z);
    ASSERT_LE(largest, 7'000'000);
    ASSERT_GE(stream.exponential_micro(), 0);
  }
  EXPECT_GT(largest, 4'000'000);  // one in a million lies beyond 4.9
}

}  // namespace
}  // namespace understudy
