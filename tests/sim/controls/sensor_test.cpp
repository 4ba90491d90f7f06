// What sensors measure over time, and what a matrix of buttons seems to say.
#include "sim/controls/sensor.h"

#include <gtest/gtest.h>

#include <cmath>

#include "sim/base/fingerprint.h"
#include "sim/controls/matrix.h"

namespace understudy {
namespace {

Instant ms(std::int64_t n) {
  return Instant{} + milliseconds(n);
}

// Against the C library's sine.
TEST(Sensor, TheTableIsTheSine) {
  const std::vector<std::int32_t> table = sine_table();
  ASSERT_EQ(table.size(), 1'024U);
  for (std::size_t n = 0; n < table.size(); ++n)
    EXPECT_NEAR(table[n], 1e6 * std::sin(2 * M_PI * static_cast<double>(n) / 1'024), 0.51) << n;
}

// Every compiler has to fill it alike: the digest is held to a written number.
TEST(Sensor, TheTableIsTheSameEverywhere) {
  Fingerprint digest;
  for (const std::int32_t value : sine_table()) digest.add(std::int64_t{value});
  EXPECT_EQ(digest.value(), UINT64_C(12378521161357288588));
}

TEST(Sensor, ASineSwingsAboutItsLevelOnceAPeriod) {
  const SensorPlan plan({.course = SensorCourse::kSine,
                         .level_ppm = 400'000,
                         .swing_ppm = 100'000,
                         .period = seconds(8)});
  EXPECT_EQ(plan.share_ppm(ms(0)), 400'000);
  EXPECT_EQ(plan.share_ppm(ms(2'000)), 500'000);
  EXPECT_EQ(plan.share_ppm(ms(4'000)), 400'000);
  EXPECT_EQ(plan.share_ppm(ms(6'000)), 300'000);
  EXPECT_EQ(plan.share_ppm(ms(8'000'000'000)), 400'000);
}

TEST(Sensor, ValuesFollowEachOtherAndBeginAgain) {
  const SensorPlan plan(
      {.course = SensorCourse::kValues, .every = milliseconds(100), .values_ppm = {10, 20, 30}});
  EXPECT_EQ(plan.share_ppm(ms(0)), 10);
  EXPECT_EQ(plan.share_ppm(ms(99)), 10);
  EXPECT_EQ(plan.share_ppm(ms(100)), 20);
  EXPECT_EQ(plan.share_ppm(ms(299)), 30);
  EXPECT_EQ(plan.share_ppm(ms(300)), 10);
}

TEST(Sensor, AWalkStaysInItsRangeAndDependsOnTimeNotOnHowOftenItIsRead) {
  const SensorPart part{
      .course = SensorCourse::kWalk, .step_ppm = 90'000, .every = milliseconds(10)};
  const SensorPlan plan(part);
  SensorState often(part, Stream(3, "air.course"));
  SensorState seldom(part, Stream(3, "air.course"));
  std::int64_t least = 1'000'000;
  std::int64_t most = 0;
  for (std::int64_t t = 0; t < 100'000; ++t) {
    const std::int64_t share = often.share_ppm(ms(t), plan);
    least = std::min(least, share);
    most = std::max(most, share);
  }
  EXPECT_EQ(often.share_ppm(ms(100'000), plan), seldom.share_ppm(ms(100'000), plan));
  EXPECT_GE(least, 0);
  EXPECT_LE(most, 1'000'000);
  EXPECT_GT(most - least, 800'000);  // 10,000 steps of 9 % go everywhere
}

// Steps of a Gaussian walk far from its ends: their root mean square is what was asked for, within
// four standard deviations of such an estimate (2.8 % for 10,000 steps).
TEST(Sensor, TheStepsOfAWalkHaveTheSizeAskedFor) {
  const SensorPart part{.course = SensorCourse::kWalk, .step_ppm = 1'000, .every = milliseconds(1)};
  const SensorPlan plan(part);
  SensorState state(part, Stream(5, "air.course"));
  double squares = 0;
  std::int64_t before = state.share_ppm(ms(0), plan);
  for (std::int64_t t = 1; t <= 10'000; ++t) {
    const std::int64_t now = state.share_ppm(ms(t), plan);
    squares += static_cast<double>((now - before) * (now - before));
    before = now;
  }
  EXPECT_NEAR(std::sqrt(squares / 10'000), 1'000, 28);
}

TEST(Matrix, WithDiodesEveryButtonSpeaksForItselfAlone) {
  MatrixContacts contacts;
  contacts.close(0, 0);
  contacts.close(1, 0);
  contacts.close(1, 1);
  EXPECT_TRUE(contacts.joins(0, 0, true));
  EXPECT_FALSE(contacts.joins(0, 1, true));
}

TEST(Matrix, WithoutDiodesThreeCornersMakeTheFourth) {
  MatrixContacts contacts;
  contacts.close(0, 0);
  contacts.close(1, 0);
  EXPECT_FALSE(contacts.joins(0, 1, false));
  contacts.close(1, 1);
  EXPECT_TRUE(contacts.joins(0, 1, false));
  EXPECT_FALSE(contacts.joins(2, 0, false));
  EXPECT_FALSE(contacts.joins(0, 2, false));
}

// Against the definition: two lines are joined when a chain of closed buttons leads from one to the
// other, found by squaring the matrix of neighbours until nothing changes.
TEST(Matrix, GhostsAreExactlyTheChainsOfClosedButtons) {
  Stream stream(7, "matrix");
  for (int round = 0; round < 300; ++round) {
    MatrixContacts contacts;
    bool joined[8][8] = {};  // rows 0..3, columns 4..7
    for (std::size_t row = 0; row < 4; ++row)
      for (std::size_t column = 0; column < 4; ++column)
        if (stream.below(3) == 0) {
          contacts.close(row, column);
          joined[row][4 + column] = joined[4 + column][row] = true;
        }
    for (int pass = 0; pass < 4; ++pass)
      for (auto& from : joined)
        for (int via = 0; via < 8; ++via)
          for (int to = 0; to < 8; ++to) from[to] = from[to] || (from[via] && joined[via][to]);
    for (std::size_t row = 0; row < 4; ++row)
      for (std::size_t column = 0; column < 4; ++column)
        ASSERT_EQ(contacts.joins(row, column, false), joined[row][4 + column]);
  }
}

}  // namespace
}  // namespace understudy
