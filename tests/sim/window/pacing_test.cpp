// When the window draws and how long it sleeps. The limits are those that the window promises: at
// most 2 frames a second while nothing changes, 60 while something moves.
#include "sim/window/pacing.h"

#include <gtest/gtest.h>

namespace understudy {
namespace {

Moment after(Duration since_frame) {
  return {.since_frame = since_frame, .since_asked = since_frame};
}

// Lives a second in steps of the waits that are asked for; returns the frames that were drawn.
int frames_in_a_second(const Moment& always) {
  int frames = 0;
  Duration since_frame = milliseconds(0);
  Duration since_asked = milliseconds(0);
  for (Duration now = milliseconds(0); now < seconds(1);) {
    Moment moment = always;
    moment.since_frame = since_frame;
    moment.since_asked = since_asked;
    const Pace found = pace(moment);
    if (found.draw) {
      ++frames;
      since_frame = milliseconds(0);
    }
    if (found.ask) since_asked = milliseconds(0);
    now = now + found.wait;
    since_frame = since_frame + found.wait;
    since_asked = since_asked + found.wait;
  }
  return frames;
}

TEST(Pacing, WhileNothingChangesAtMostTwoFramesASecondAreDrawn) {
  EXPECT_LE(frames_in_a_second({}), 2);
}

TEST(Pacing, WhatMovesIsDrawnAboutSixtyTimesASecond) {
  EXPECT_GE(frames_in_a_second({.change = ViewChange::kFace}), 58);
  EXPECT_LE(frames_in_a_second({.change = ViewChange::kFace}), 63);
  EXPECT_GE(frames_in_a_second({.animating = true}), 58);
}

TEST(Pacing, LinesThatPassAreDrawnLessOftenThanWhatMoves) {
  EXPECT_NEAR(frames_in_a_second({.change = ViewChange::kTraffic}), 25, 2);
}

TEST(Pacing, WhatThePersonDoesIsDrawnAtOnceAfterARest) {
  Moment moment = after(milliseconds(300));
  EXPECT_FALSE(pace(moment).draw);
  moment.input = true;
  EXPECT_TRUE(pace(moment).draw);
}

TEST(Pacing, AMinimisedWindowDrawsNothingAndWakesOnceASecond) {
  Moment moment = after(seconds(5));
  moment.visible = false;
  moment.change = ViewChange::kFace;
  moment.input = true;
  EXPECT_FALSE(pace(moment).draw);
  EXPECT_EQ(pace(moment).wait, kRest);
}

TEST(Pacing, ALampIsLookedForThirtyTimesASecondWhileNothingIsDrawn) {
  Moment moment = after(milliseconds(10));
  EXPECT_FALSE(pace(moment).ask);
  EXPECT_EQ(pace(moment).wait, milliseconds(23));
  moment.since_asked = milliseconds(33);
  EXPECT_TRUE(pace(moment).ask);
}

TEST(Pacing, NoWaitIsZeroOrLongerThanARest) {
  for (int asked = 0; asked < 3'000; asked += 7) {
    for (int frame = 0; frame < 3'000; frame += 13) {
      const Pace found =
          pace({.since_frame = milliseconds(frame), .since_asked = milliseconds(asked)});
      ASSERT_GE(found.wait, milliseconds(1));
      ASSERT_LE(found.wait, kRest);
    }
  }
}

}  // namespace
}  // namespace understudy
