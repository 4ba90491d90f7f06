// Gestures, tracks and contacts where no published number is at hand; those are in
// tests/reference/.
#include <gtest/gtest.h>

#include <limits>

#include "sim/controls/contact.h"
#include "sim/controls/gesture.h"
#include "sim/controls/pot.h"

namespace understudy {
namespace {

TEST(Gesture, StartsWhereTheOneBeforeWasInterrupted) {
  Gesture gesture(0);
  gesture.move(Instant{0}, kFullTravel, milliseconds(100), Curve::kLinear);
  gesture.move(Instant{0} + milliseconds(50), 0, milliseconds(100), Curve::kLinear);
  EXPECT_EQ(gesture.position_ppm(Instant{0} + milliseconds(50)), 500'000);
  EXPECT_EQ(gesture.position_ppm(Instant{0} + milliseconds(100)), 250'000);
  EXPECT_EQ(gesture.position_ppm(Instant{0} + milliseconds(150)), 0);
}

TEST(Gesture, NeverLeavesTheTravelNorTurnsBackOnItsWay) {
  for (const Curve curve : {Curve::kLinear, Curve::kMinimumJerk, Curve::kAtOnce}) {
    Gesture gesture(200'000);
    gesture.move(Instant{0}, 900'000, milliseconds(10), curve);
    std::int32_t last = 200'000;
    for (std::int64_t us = 0; us <= 11'000; us += 7) {
      const std::int32_t position = gesture.position_ppm(Instant{0} + microseconds(us));
      ASSERT_GE(position, last);
      last = position;
    }
    EXPECT_EQ(last, 900'000);
  }
}

TEST(Gesture, ImpossibleGoalsAndLengthsAreHeldToTheNearestPossible) {
  Gesture gesture(0);
  gesture.move(Instant{0}, 2'000'000'000, Duration{-5}, Curve::kLinear);
  EXPECT_EQ(gesture.position_ppm(Instant{0}), kFullTravel);
  gesture.move(Instant{1}, -7, Duration{std::numeric_limits<std::int64_t>::max()}, Curve::kLinear);
  EXPECT_EQ(gesture.goal_ppm(), 0);
  EXPECT_EQ(gesture.ends(), Instant{1} + kGestureLengthMax);
}

TEST(Track, NeverReachesWhatIsLostAtItsEnds) {
  PotPart pot;
  pot.end_low_ppm = 8'000;
  pot.end_high_ppm = 100'000;
  const Track track(pot);
  EXPECT_EQ(track.share_ppb(0), 8'000'000);
  EXPECT_EQ(track.share_ppb(kFullTravel), 900'000'000);
  EXPECT_EQ(track.share_ppb(500'000), 454'000'000);
}

TEST(Track, EveryTaperRisesFromEndToEnd) {
  for (const Taper taper : {Taper::kLinear, Taper::kLog, Taper::kAntilog}) {
    PotPart pot;
    pot.taper = taper;
    pot.middle_ppm = taper == Taper::kLog ? 150'000 : 850'000;
    const Track track(pot);
    EXPECT_EQ(track.share_ppb(0), 0);
    EXPECT_EQ(track.share_ppb(kFullTravel), kWholeTrackPpb);
    std::int64_t last = -1;
    for (std::int32_t position = 0; position <= kFullTravel; position += 997) {
      ASSERT_GT(track.share_ppb(position), last);
      last = track.share_ppb(position);
    }
  }
}

ContactPart bouncy() {
  ContactPart part;
  part.bounce_mean_ns = 1'557'000;
  part.bounce_max_ns = 6'200'000;
  return part;
}

TEST(Contact, IsWhereTheHandHoldsItOnceTheChatterIsOver) {
  Stream stream(1, "bounce");
  Contact contact(false);
  contact.change(Instant{1'000}, true, bouncy(), stream);
  EXPECT_TRUE(contact.closed());
  EXPECT_TRUE(contact.closed_at(Instant{1'000} + microseconds(6'200), bouncy(), stream));
}

TEST(Contact, AChangeThatIsNoneDrawsNothing) {
  Stream stream(1, "bounce");
  Contact contact(true);
  contact.change(Instant{1'000}, true, bouncy(), stream);
  EXPECT_EQ(stream.count(), 0U);
}

TEST(Contact, EachChangeTakesTheSameNumberOfDrawsAndAPerfectContactNone) {
  Stream stream(1, "bounce");
  Contact contact(false);
  contact.change(Instant{0}, true, bouncy(), stream);
  const std::uint64_t first = stream.count();
  contact.change(Instant{100'000'000}, false, bouncy(), stream);
  EXPECT_EQ(stream.count(), 2 * first);
  Stream untouched(1, "bounce");
  contact.change(Instant{200'000'000}, true, ContactPart{}, untouched);
  EXPECT_EQ(untouched.count(), 0U);
  EXPECT_TRUE(contact.closed_at(Instant{200'000'000}, ContactPart{}, untouched));
}

TEST(Contact, AnswersTheSameHoweverOftenItIsAsked) {
  Stream stream(4, "bounce");
  Contact contact(false);
  contact.change(Instant{0}, true, bouncy(), stream);
  for (std::int64_t us = 0; us < 6'300; us += 11) {
    const bool once = contact.closed_at(Instant{us * 1'000}, bouncy(), stream);
    EXPECT_EQ(contact.closed_at(Instant{us * 1'000}, bouncy(), stream), once);
  }
}

}  // namespace
}  // namespace understudy
