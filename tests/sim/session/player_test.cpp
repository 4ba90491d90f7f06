// What players do to each kind of control: only what a hand can, in order of time, and let go.
#include "sim/session/player.h"

#include <gtest/gtest.h>

#include <map>
#include <memory>
#include <set>

#include "sim/model/kinds.h"

namespace understudy {
namespace {

Panel desk(const std::vector<ControlKind>& kinds) {
  Panel panel;
  for (const ControlKind kind : kinds) {
    ControlDescription control;
    control.name = std::string(kind_word(kind));
    control.kind = kind;
    control.selector.places = 5;
    control.encoder.detents = 20;
    control.stick.centre_x_ppm = 480'000;
    panel.description.controls.push_back(control);
  }
  return panel;
}

const std::vector<ControlKind> kAllKinds = {
    ControlKind::kSensor,   ControlKind::kPot,    ControlKind::kButton, ControlKind::kSwitch,
    ControlKind::kSelector, ControlKind::kSensor, ControlKind::kStick,  ControlKind::kEncoder};

struct Played {
  Instant at;
  HandAction hand;
};
std::vector<Played> played(PlayKind kind, const Panel& panel, int count, std::uint64_t seed = 3) {
  Player player(kind, panel, seed, "desk");
  std::vector<Played> all;
  for (int i = 0; i < count; ++i) {
    const Instant due = player.next_due();
    const Input input = player.play(panel);
    EXPECT_EQ(input.at, due);
    all.push_back({input.at, std::get<HandAction>(input.what)});
  }
  return all;
}

TEST(Player, EveryMoveIsOneThatAHandCanMakeAndTimeNeverGoesBack) {
  const Panel panel = desk(kAllKinds);
  for (const PlayKind kind : {PlayKind::kWander, PlayKind::kSweep}) {
    std::set<std::pair<int, int>> moved;
    Instant last;
    for (const auto& [at, hand] : played(kind, panel, 20'000)) {
      ASSERT_GE(at, last);
      last = at;
      const ControlDescription& control = panel.description.controls[hand.control];
      const auto parts = hand_parts(control);
      ASSERT_LT(hand.part, parts.size()) << control.name;
      moved.insert({hand.control, hand.part});
      switch (parts[hand.part].way) {
        case HandWay::kTurns: {
          const std::int64_t clicks =
              std::int64_t{hand.to_ppm} * control.encoder.detents / kFullTravel;
          ASSERT_EQ(turn_ppm(clicks, control.encoder.detents), hand.to_ppm) << "whole clicks";
          ASSERT_GE(hand.duration, milliseconds(60)) << "a knob takes its time";
          break;
        }
        case HandWay::kPlaces:
          ASSERT_EQ(place_ppm(place_at(hand.to_ppm, 5), 5), hand.to_ppm) << "between two places";
          break;
        case HandWay::kPresses:
        case HandWay::kToggles:
          ASSERT_EQ(hand.to_ppm % kFullTravel, 0);
          break;
        case HandWay::kSlides:
          ASSERT_GE(hand.to_ppm, 0);
          ASSERT_LE(hand.to_ppm, kFullTravel);
          break;
      }
    }
    // Pot, button, switch, selector, three parts of the stick, encoder; never a sensor.
    EXPECT_EQ(moved.size(), 8U);
  }
}

TEST(Player, ASelectorIsSweptThroughAllItsPlacesAndAWanderReachesThemToo) {
  const Panel panel = desk({ControlKind::kSelector});
  std::vector<std::int32_t> goals;
  for (const auto& [at, hand] : played(PlayKind::kSweep, panel, 5)) goals.push_back(hand.to_ppm);
  EXPECT_EQ(goals, (std::vector<std::int32_t>{250'000, 500'000, 750'000, 1'000'000, 0}));
  std::set<std::int32_t> wandered;
  for (const auto& [at, hand] : played(PlayKind::kWander, panel, 200)) wandered.insert(hand.to_ppm);
  EXPECT_EQ(wandered.size(), 5U);
}

TEST(Player, ASweptKnobComesBackToWhereItWas) {
  const Panel panel = desk({ControlKind::kEncoder});
  std::int64_t turned = 0;
  for (const auto& [at, hand] : played(PlayKind::kSweep, panel, 20)) turned += hand.to_ppm;
  EXPECT_EQ(turned, 0);
}

TEST(Player, AStickThatSpringsIsLetGoBeforeAnythingElseIsTouched) {
  const Panel panel = desk({ControlKind::kStick, ControlKind::kPot});
  std::map<int, std::int32_t> stick = {{0, 480'000}, {1, 500'000}, {2, 0}};
  const std::map<int, std::int32_t> at_rest = stick;
  int pots = 0;
  for (const auto& [at, hand] : played(PlayKind::kWander, panel, 2'000)) {
    if (hand.control == 0) {
      stick[hand.part] = hand.to_ppm;
    } else {
      ++pots;
      ASSERT_EQ(stick, at_rest);
    }
  }
  EXPECT_GT(pots, 100);
}

TEST(Player, AStickWithoutSpringsOrPressIsNeitherLetGoNorPressed) {
  Panel panel = desk({ControlKind::kStick});
  panel.description.controls[0].stick.springs = false;
  panel.description.controls[0].stick.presses = false;
  for (const PlayKind kind : {PlayKind::kWander, PlayKind::kSweep})
    for (const auto& [at, hand] : played(kind, panel, 500)) ASSERT_LT(hand.part, 2);
  const auto moves = played(PlayKind::kWander, panel, 100);
  for (std::size_t i = 0; i < moves.size(); i += 2) {
    EXPECT_EQ(moves[i].at, moves[i + 1].at) << "both ways go together";
    EXPECT_NE(moves[i].hand.part, moves[i + 1].hand.part);
  }
}

TEST(Player, APanelThatNoHandMovesIsNeverPlayed) {
  for (const PlayKind kind : {PlayKind::kWander, PlayKind::kSweep}) {
    EXPECT_EQ(Player(kind, desk({ControlKind::kSensor}), 1, "a").next_due(), kNever);
    EXPECT_EQ(Player(kind, desk({}), 1, "a").next_due(), kNever);
  }
}

// What a sensor is, the hand does not feel: the same draws move the same controls.
TEST(Player, ASensorBesideChangesNothingThatAHandDoes) {
  const Panel with = desk({ControlKind::kPot, ControlKind::kButton, ControlKind::kSensor});
  const Panel without = desk({ControlKind::kPot, ControlKind::kButton});
  const auto a = played(PlayKind::kWander, with, 300);
  const auto b = played(PlayKind::kWander, without, 300);
  for (std::size_t i = 0; i < a.size(); ++i) {
    ASSERT_EQ(a[i].at, b[i].at);
    ASSERT_EQ(a[i].hand, b[i].hand);
  }
}

TEST(Player, ACopyPlaysOnAlike) {
  const Panel panel = desk(kAllKinds);
  Player one(PlayKind::kWander, panel, 9, "desk");
  for (int i = 0; i < 101; ++i) one.play(panel);
  Player two = one;
  for (int i = 0; i < 500; ++i) {
    ASSERT_EQ(one.next_due(), two.next_due());
    ASSERT_EQ(one.play(panel), two.play(panel));
  }
}

}  // namespace
}  // namespace understudy
