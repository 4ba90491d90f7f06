// What a part's card says; no display.
#include "sim/faults/hand_words.h"
#include "sim/window/control_card.h"
#include "tests/sim/window/hands_bench.h"

namespace understudy {
namespace {

using PartsCard = HandsBench;

TEST_F(PartsCard, ItsWordsAreUnderstoodByTheCommandLineAndPutTheControlWhereItIs) {
  const std::vector<HandSeat> seats = {{"seat0", panel.get()}, {"seat1", panel.get()}};
  for (std::uint16_t index = kPower; index <= kCrane; ++index) {
    const std::string command = hand_command(*view, 0, index);
    const std::string before = "understudy hand '";
    ASSERT_EQ(command.substr(0, before.size()), before);
    const std::string line = command.substr(before.size(), command.size() - before.size() - 1);
    const auto hands = parse_hand_words(line, seats);
    ASSERT_TRUE(hands) << line;
    ASSERT_FALSE(hands.value().empty()) << line;
    const TimedHand& first = hands.value()[0];
    EXPECT_EQ(first.action.control, index) << line;
    if (index == kBell || index == kFocus) continue;  // a press, a click
    EXPECT_NEAR(first.action.to_ppm, view->seats[0].device.goal_ppm(index, 0), 5'000) << line;
  }
}

TEST_F(PartsCard, EveryKindIsNamedInWords) {
  EXPECT_EQ(kind_in_words(panel->description, {false, kMode}), "Selector of 4 places");
  EXPECT_EQ(kind_in_words(panel->description, {false, kCrane}), "Stick without springs");
  EXPECT_EQ(kind_in_words(panel->description, {true, 0}), "Lamp");
}

TEST_F(PartsCard, AStickHasAValueForEachOfItsParts) {
  const auto values = card_values(view->seats[0], {false, kLever});
  ASSERT_EQ(values.size(), 3U);
  EXPECT_EQ(values[0].part, "x");
  EXPECT_NE(values[0].words.find("50 %"), std::string::npos) << values[0].words;
  EXPECT_EQ(card_values(view->seats[0], {true, 0}).size(), 1U);
}

}  // namespace
}  // namespace understudy
