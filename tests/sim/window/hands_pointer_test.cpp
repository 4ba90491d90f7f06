// What mouse, fingers and game controllers wish of controls; no display.
#include "tests/sim/window/hands_bench.h"

namespace understudy {
namespace {

using HandsAtPointers = HandsBench;

TEST_F(HandsAtPointers, ATapWithinOneFrameLastsTenMilliseconds) {
  hands.press(1, middle(kBell), {});
  hands.release(1);
  hands.press(1, middle(kBell), {});
  hands.release(1);
  const auto found = wished();
  ASSERT_EQ(found.size(), 4U);
  for (std::size_t i = 0; i < 4; ++i) {
    EXPECT_EQ(found[i].hands[0].after, milliseconds(10 * static_cast<std::int64_t>(i)));
    EXPECT_EQ(found[i].instead, i == 0) << "the end must not make the press forgotten";
    EXPECT_EQ(found[i].hands[0].action.to_ppm, i % 2 == 0 ? kFullTravel : 0);
  }
  hands.press(1, middle(kBell), {});
  EXPECT_EQ(wished(1)[0].hands[0].after, Duration{}) << "long after, a press waits for nothing";
}

TEST_F(HandsAtPointers, TheLastThatLetsGoLetsTheButtonUp) {
  hands.press(1, middle(kBell), {});
  hands.pad(0, "a", 1);
  hands.key("Return", true, {});
  EXPECT_EQ(wished().size(), 1U);
  hands.release(1);
  hands.key("Return", false, {});
  EXPECT_TRUE(wished().empty());
  hands.pad(0, "a", 0);
  EXPECT_EQ(heading(kBell), 0);
}

TEST_F(HandsAtPointers, NotchesBeforeAFreshViewAddUp) {
  for (int i = 0; i < 3; ++i) hands.wheel(middle(kMode), 1, {});
  EXPECT_EQ(heading(kMode), place_ppm(3, 4));
  const std::int32_t before = rest_ppm(panel->description.controls[kPower], 0);
  for (int i = 0; i < 3; ++i) hands.wheel(middle(kPower), 1, {});
  EXPECT_EQ(heading(kPower), before + 60'000);
}

TEST_F(HandsAtPointers, WhatWasSentLongAgoIsNotWhereAControlIs) {
  hands.wheel(middle(kPower), 1, {});
  const std::int32_t first = *heading(kPower);
  wished(0.2);  // meanwhile a script has brought it back; so says the view
  hands.wheel(middle(kPower), 1, {});
  EXPECT_EQ(heading(kPower), first);
}

TEST_F(HandsAtPointers, FractionsOfNotchesAddUp) {
  for (int i = 0; i < 9; ++i) hands.wheel(middle(kFocus), 0.1F, {});
  EXPECT_TRUE(wished().empty());
  hands.wheel(middle(kFocus), 0.1F, {});
  EXPECT_EQ(wished().size(), 1U);
  hands.wheel(middle(kFocus), 0.9F, {});
  hands.wheel(middle(kFocus), -0.2F, {});
  EXPECT_TRUE(wished().empty()) << "the other way begins anew";
}

TEST_F(HandsAtPointers, ADoubleClickPressesAButtonTwiceAndCentresAPot) {
  hands.press(kMousePointer, middle(kBell), {});
  hands.double_click(middle(kBell));
  EXPECT_EQ(heading(kBell), kFullTravel);
  hands.release(kMousePointer);
  hands.press(kMousePointer, middle(kPower), {});
  hands.double_click(middle(kPower));
  EXPECT_EQ(heading(kPower), kFullTravel / 2);
  hands.press(kMousePointer, middle(kLever), {});
  hands.double_click(middle(kLever));
  EXPECT_EQ(heading(kLever), std::nullopt) << "it has springs for that";
  hands.double_click(middle(kCrane));
  EXPECT_EQ(heading(kCrane, 1), kFullTravel / 2);
}

TEST_F(HandsAtPointers, AKnobTurnedPastItsEndComesBackAtOnce) {
  const Point at = middle(kPower);
  hands.press(kMousePointer, at, {});
  for (int i = 1; i <= 40; ++i) hands.move(kMousePointer, at + Point{0, -5.0F * i}, {});
  EXPECT_EQ(heading(kPower), kFullTravel);
  hands.move(kMousePointer, at + Point{0, -195}, {});
  EXPECT_LT(heading(kPower).value_or(kFullTravel), kFullTravel);
}

TEST_F(HandsAtPointers, TheMiddleButtonOnTheBallPressesAStick) {
  EXPECT_FALSE(hands.press(kMiddlePointer, middle(kBell), {.push = true}));
  ASSERT_TRUE(hands.press(kMiddlePointer, middle(kLever), {.push = true}));
  EXPECT_EQ(heading(kLever, 2), kFullTravel);
  hands.move(kMiddlePointer, middle(kLever) + Point{5, 0}, {});
  EXPECT_TRUE(wished().empty()) << "it does not lean";
  hands.release(kMiddlePointer);
  EXPECT_EQ(heading(kLever, 2), 0);
  hands.press(kMousePointer, middle(kLever), {.wedge = true});
  hands.release(kMousePointer);
  EXPECT_TRUE(hands.wedged(kLever));
  EXPECT_EQ(heading(kLever, 2), kFullTravel);
}

TEST_F(HandsAtPointers, AnotherSeatIsReachedWithNothingHeldAtTheFirst) {
  hands.press(1, middle(kBell), {});
  hands.pad(0, "left x", 1);
  wished();
  hands.see(view, 1);
  bool up = false;
  for (const HandWish& wish : wished()) {
    EXPECT_EQ(wish.hands[0].seat, 0);
    up = up || (wish.hands[0].action.control == kBell && wish.hands[0].action.to_ppm == 0);
  }
  EXPECT_TRUE(up);
}

TEST_F(HandsAtPointers, AnotherPanelOfTheSameShapeIsAnotherPanel) {
  hands.press(1, middle(kBell), {});
  hands.set_wedge(kLever, true);
  wished();
  const auto read_again = hands_panel();
  hands.see(hands_view({read_again, panel}), 0);
  const auto found = wished();
  ASSERT_FALSE(found.empty());
  EXPECT_EQ(found[0].seen, panel) << "the old panel's button is let go";
  EXPECT_EQ(found[0].hands[0].action.to_ppm, 0);
  EXPECT_TRUE(hands.wedged(kLever)) << "a wedge stays with its control's name";
  hands.see(hands_view({hands_panel("panel = \"Hands\"\n[[control]]\nname = \"other\"\n"
                                    "kind = \"button\"\n")}),
            0);
  EXPECT_FALSE(hands.wedged(0));
}

TEST_F(HandsAtPointers, AControllerThatIsUnpluggedHoldsNothing) {
  hands.pad(0, "a", 1);
  hands.pad(0, "left x", -1);
  wished();
  hands.pad_gone(0);
  const auto found = wished();
  ASSERT_EQ(found.size(), 2U);
  EXPECT_EQ(found[0].hands[0].action.to_ppm, 0);
  EXPECT_EQ(found[1].hands[0].action.to_ppm, rest_ppm(panel->description.controls[kLever], 0));
}

TEST_F(HandsAtPointers, OfTwoControllersTheOneDoesNotLetGoWhatTheOtherHolds) {
  hands.pad(0, "a", 1);
  hands.pad(1, "a", 1);
  EXPECT_EQ(heading(kBell), kFullTravel);
  hands.pad(0, "a", 0);
  EXPECT_EQ(heading(kBell), std::nullopt);
  hands.pad_gone(1);
  EXPECT_EQ(heading(kBell), 0);

  hands.pad(0, "left x", 1);
  EXPECT_EQ(heading(kLever), kFullTravel);
  hands.pad(1, "left x", -0.5F);  // a lean that is less, and let go again
  hands.pad(1, "left x", 0);
  EXPECT_EQ(heading(kLever), std::nullopt);
  hands.pad(0, "left x", 0);
  EXPECT_EQ(heading(kLever), rest_ppm(panel->description.controls[kLever], 0));
}

}  // namespace
}  // namespace understudy
