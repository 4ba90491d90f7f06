// What is kept of a recorded gesture, and when it comes again; no display, no clock.
#include "sim/window/gestures.h"
#include "tests/sim/window/hands_bench.h"

namespace understudy {
namespace {

const GestureKey kKey = {"Hands", "power"};

class GestureBench : public HandsBench {
 protected:
  // A slide that goes up evenly for two seconds, as a mouse reports it.
  KeptGesture recorded() {
    gestures.record(kKey, 0, kPower);
    for (int i = 0; i <= 120; ++i) {
      HandWish wish = {.hands = {TimedHand{{}, 0, {.control = kPower, .part = 0}}}};
      wish.hands[0].action.to_ppm = i * 5'000;
      wish.hands[0].action.duration = milliseconds(16);
      wish.hands[0].action.curve = Curve::kLinear;
      gestures.take(wish, 5 + i / 60.0);
      wish.hands[0].action.control = kBell;
      gestures.take(wish, 5 + i / 60.0);
    }
    return gestures.done().value();
  }
  Gestures gestures;
};

TEST_F(GestureBench, AnEvenMovementIsKeptAsFewActions) {
  const KeptGesture found = recorded();
  EXPECT_LE(found.hands.size(), 3U);
  EXPECT_EQ(found.hands.back().action.to_ppm, 600'000);
  EXPECT_NEAR(static_cast<double>(found.length().ns) / 1e9, 2.016, 0.001);
  for (const TimedHand& hand : found.hands) EXPECT_EQ(hand.action.control, kPower);
}

TEST_F(GestureBench, ATextBringsAGestureBackAndNonsenseBringsNone) {
  const KeptGesture found = recorded();
  const auto again = gesture_of(gesture_text(found));
  ASSERT_TRUE(again);
  EXPECT_EQ(gesture_text(*again), gesture_text(found));
  for (const char* text : {"", "1 2", "x", "1 9 0 0 0", "-5 0 0 0 0", "1 0 0 0 1 x"})
    EXPECT_FALSE(gesture_of(text)) << text;
}

TEST_F(GestureBench, RepeatsComeEveryThreeSecondsFromTheFirstHoweverUnevenTheFrames) {
  recorded();
  gestures.play(kKey, 100, 3.0);
  std::vector<double> begins;
  for (double now = 100; now < 130; now += begins.size() % 2 == 0 ? 0.37 : 0.011)
    for (const Wish& wish : gestures.due(panel, 0, now))
      begins.push_back(now + static_cast<double>(std::get<HandWish>(wish).hands[0].after.ns) / 1e9);
  ASSERT_GE(begins.size(), 10U);
  for (std::size_t i = 0; i < begins.size(); ++i)
    EXPECT_NEAR(begins[i], 100 + 3.0 * static_cast<double>(i), 1e-6);
  gestures.stop(kKey);
  EXPECT_TRUE(gestures.due(panel, 0, 140).empty());
}

TEST_F(GestureBench, ATapIsKeptAsItIsAndPlayedOnce) {
  const GestureKey key = {"Hands", "bell"};
  gestures.record(key, 0, kBell);
  hands.press(1, middle(kBell), {});
  hands.release(1);
  for (const HandWish& wish : wished()) gestures.take(wish, 1);
  ASSERT_TRUE(gestures.done());
  gestures.play(key, 2);
  const auto played = gestures.due(panel, 0, 2);
  ASSERT_EQ(played.size(), 1U);
  const auto& tap = std::get<HandWish>(played[0]).hands;
  ASSERT_EQ(tap.size(), 2U);
  EXPECT_EQ(tap[1].after, milliseconds(10));
  EXPECT_TRUE(gestures.due(panel, 0, 5).empty());
  gestures.record(key, 0, kBell);
  EXPECT_FALSE(gestures.done()) << "nothing was done";
}

}  // namespace
}  // namespace understudy
