// What keys wish of controls, and random events of all kinds; no display.
#include "sim/base/random.h"
#include "tests/sim/window/hands_bench.h"

namespace understudy {
namespace {

using HandsAtKeys = HandsBench;

TEST_F(HandsAtKeys, AKeyLetsGoWhatItPressedThoughTheFocusHasGone) {
  while (hands.focus() != kBell) hands.step_focus(false);
  hands.key("Space", true, {});
  EXPECT_EQ(heading(kBell), kFullTravel);
  hands.step_focus(false);
  hands.key("Space", false, {});
  EXPECT_EQ(heading(kBell), 0);
}

TEST_F(HandsAtKeys, EnterIsReturnAndPlusStandsOnTheKeyOfEquals) {
  EXPECT_EQ(key_place("enter"), key_place("Return"));
  EXPECT_EQ(key_place("+"), key_place("="));  // the US layout, ANSI INCITS 154-1988
  EXPECT_EQ(key_place("?"), key_place("/"));
  EXPECT_EQ(key_place("B"), key_place("b"));
  hands.key("Return", true, {});
  EXPECT_EQ(heading(kBell), kFullTravel);
  hands.key("=", true, {});
  EXPECT_EQ(heading(kDoors), kFullTravel);
}

TEST_F(HandsAtKeys, OppositeKeysLeaveASlideWhereItIsAndAStickInTheMiddle) {
  hands.key("W", true, {});
  const std::int32_t there = heading(kPower, 0, 0.1).value_or(0);
  EXPECT_GT(there, 0);
  hands.key("S", true, {});
  EXPECT_EQ(heading(kPower, 0, 0.1), std::nullopt);
  hands.key("W", false, {});
  EXPECT_LT(heading(kPower, 0, 0.1).value_or(there), there);
  hands.key("Right", true, {});
  EXPECT_EQ(heading(kLever), kFullTravel);
  hands.key("Left", true, {});
  EXPECT_EQ(heading(kLever), kFullTravel / 2);
  hands.key("Right", false, {});
  EXPECT_EQ(heading(kLever), 0);
  hands.key("Left", false, {});
  EXPECT_EQ(heading(kLever), kFullTravel / 2);
}

TEST_F(HandsAtKeys, AStickWithoutSpringsGlidesAndStaysWhereItsKeyLeftIt) {
  hands.key("D", true, {});
  const std::int32_t there = heading(kCrane, 0, 0.1).value_or(0);
  EXPECT_GT(there, kFullTravel / 2);
  EXPECT_LT(there, kFullTravel);
  hands.key("D", false, {});
  EXPECT_EQ(heading(kCrane, 0, 0.1), std::nullopt);
}

// Follows every wish: an action for a part that is there, and what is down because of it.
class Follower {
 public:
  void take(const HandWish& wish) {
    const TimedHand& timed = wish.hands.at(0);
    ASSERT_NE(wish.seen, nullptr);
    const auto& controls = wish.seen->description.controls;
    ASSERT_LT(timed.action.control, controls.size());
    const ControlDescription& control = controls[timed.action.control];
    ASSERT_LT(timed.action.part, hand_parts(control).size());
    const HandWay way = hand_parts(control)[timed.action.part].way;
    if (way == HandWay::kTurns) return;
    ASSERT_GE(timed.action.to_ppm, 0);
    ASSERT_LE(timed.action.to_ppm, kFullTravel);
    const HandTarget target = {timed.seat, timed.action.control, timed.action.part};
    if (way == HandWay::kPresses && timed.action.to_ppm > 0)
      down.insert(target);
    else
      down.erase(target);
  }
  std::set<HandTarget> down;
};

TEST_F(HandsAtKeys, NoRandomEventReachesWhatIsNotThereOrLeavesAnythingDown) {
  Stream random(20'261'126, "test.hands");
  const auto some = [&random](int most) { return static_cast<int>(random.between(0, most)); };
  const FaceGeometry face = geometry_of(panel->description);
  const char* keys[] = {"W", "S", "Return", "=",     "Right", "Left",
                        "L", "D", "A",      "Space", "Up",    "End"};
  const char* pads[] = {"a", "left x", "left y", "left stick", "b"};
  const auto few =
      hands_panel("panel = \"Few\"\n[[control]]\nname = \"bell\"\nkind = \"button\"\n");
  const auto other = hands_view({few, panel});
  Follower follower;
  for (int i = 0; i < 100'000; ++i) {
    const Point at = {static_cast<float>(some(1'000)) / 1'000 * face.width,
                      static_cast<float>(some(1'000)) / 1'000 * face.height};
    const Point on = some(1) != 0 ? at : face.parts[static_cast<std::size_t>(some(6))].middle;
    const Modifiers modifiers = {some(4) == 0, some(30) == 0, some(4) == 0};
    switch (some(13)) {
      case 0:
      case 1:
        hands.press(some(3), on, modifiers);
        break;
      case 2:
      case 3:
        hands.move(some(3), on, modifiers);
        break;
      case 4:
        hands.release(some(3));
        break;
      case 5:
        hands.wheel(on, static_cast<float>(some(60) - 30) / 10, modifiers);
        break;
      case 6:
        hands.double_click(on);
        break;
      case 7:
      case 8:
        hands.key(keys[some(11)], some(1) != 0, modifiers);
        break;
      case 9:
        hands.pad(some(1), pads[some(4)], static_cast<float>(some(200) - 100) / 100);
        break;
      case 10:
        hands.step_focus(some(1) != 0);
        break;
      case 11:
        hands.hover(on);
        break;
      case 12:
        if (some(20) == 0) hands.see(some(3) == 0 ? other : view, some(2));
        break;
      default:
        if (some(40) == 0) hands.let_go();
    }
    if (some(3) == 0)
      for (const HandWish& wish : wished()) follower.take(wish);
    static_cast<void>(hands.marks());
    if (HasFatalFailure()) return;
  }
  hands.let_go();
  hands.pads_gone();
  for (const std::size_t seat : {0U, 1U}) {
    hands.see(view, seat);
    for (std::uint16_t i = 0; i < 7; ++i) hands.set_wedge(i, false);
    for (const HandWish& wish : wished()) follower.take(wish);
  }
  EXPECT_TRUE(follower.down.empty());
}

}  // namespace
}  // namespace understudy
