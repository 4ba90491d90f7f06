// How a board's program reads lines and turns readings into numbers; a whole program running is
// tested in tests/sim/device/.
#include <gtest/gtest.h>

#include <string>
#include <vector>

#include "sim/manners/line_gatherer.h"
#include "sim/manners/sloppy_parse.h"
#include "sim/manners/wire_numbers.h"

namespace understudy {
namespace {

std::vector<std::int64_t> integers_of(std::string_view line, std::size_t most = 8) {
  std::vector<std::int64_t> numbers(most);
  numbers.resize(integers_in_a_row(line, numbers));
  return numbers;
}

TEST(SloppyParse, TakesNumberAfterNumberWhateverStandsBetween) {
  using Numbers = std::vector<std::int64_t>;
  EXPECT_EQ(integers_of("255,0,0,90"), (Numbers{255, 0, 0, 90}));
  EXPECT_EQ(integers_of("L3=255"), (Numbers{3, 255}));
  EXPECT_EQ(integers_of("0,5,0,25"), (Numbers{0, 5, 0, 25}));
  EXPECT_EQ(integers_of("-1 - 2 +3 --4"), (Numbers{-1, 2, 3, -4}));
  EXPECT_EQ(integers_of("007"), (Numbers{7}));
  EXPECT_EQ(integers_of("no number"), (Numbers{}));
  EXPECT_EQ(integers_of("1,2,3", 2), (Numbers{1, 2}));
}

TEST(SloppyParse, HugeNumbersWrapAsThirtyTwoBitsDo) {
  EXPECT_EQ(integers_of("4294967297").at(0), 1);
  EXPECT_EQ(integers_of("2147483648").at(0), -2'147'483'648LL);
  EXPECT_EQ(integers_of(std::string(10'000, '9')).size(), 1U);
}

// Feeds bytes and gives the lines that were finished.
std::vector<std::string> lines_of(std::string_view bytes, char start, std::string_view ends) {
  LineGatherer gatherer;
  std::vector<std::string> lines;
  for (const char byte : bytes)
    if (gatherer.add(byte, start, ends)) lines.emplace_back(gatherer.text());
  return lines;
}

TEST(LineGatherer, CutsAtItsEndAndLeavesCarriageReturnsOut) {
  EXPECT_EQ(lines_of("1,2\r\n\n3\n4", 0, "\n"), (std::vector<std::string>{"1,2", "", "3"}));
}

TEST(LineGatherer, HearsOnlyWhatStandsBetweenMarkers) {
  EXPECT_EQ(lines_of("9<1,2>8<3<4>>5", '<', ">"), (std::vector<std::string>{"1,2", "4"}));
}

TEST(LineGatherer, TakesEachByteForALineWhereNoneEnds) {
  EXPECT_EQ(lines_of("UD", 0, ""), (std::vector<std::string>{"U", "D"}));
}

TEST(LineGatherer, ThrowsALineThatIsTooLongAwayToItsEnd) {
  EXPECT_EQ(lines_of(std::string(5'000, 'x') + "\n1\n", 0, "\n"), (std::vector<std::string>{"1"}));
}

TEST(WireNumbers, AReadingIsScaledTowardItsLowEnd) {
  EXPECT_EQ(wire_number_of_reading(1'023, 1'023, {.low = 0, .high = 100}), 100);
  EXPECT_EQ(wire_number_of_reading(1'022, 1'023, {.low = 0, .high = 100}), 99);
  EXPECT_EQ(wire_number_of_reading(512, 1'023, {.low = 1'023, .high = 0}), 511);
  EXPECT_EQ(wire_number_of_reading(1, 1'023, {.low = 100, .high = 0}), 100);
  EXPECT_EQ(wire_number_of_reading(512, 1'023, {.low = 7, .high = 1'030}), 519);
}

TEST(WireNumbers, HugeRangesDoNotOverflow) {
  constexpr std::int64_t kHuge = 999'999'999'999;
  EXPECT_EQ(wire_number_of_reading(4'095, 4'095, {.low = -kHuge, .high = kHuge}), kHuge);
  EXPECT_EQ(wire_number_of_reading(0, 4'095, {.low = kHuge, .high = -kHuge}), kHuge);
}

TEST(WireNumbers, WordsShareTheReadingsEvenly) {
  const Sends gears{
      .low = 0, .high = 2, .decimals = 0, .words = {"low", "mid", "high"}, .given = true};
  EXPECT_EQ(wire_number_of_reading(0, 1'023, gears), 0);
  EXPECT_EQ(wire_number_of_reading(341, 1'023, gears), 0);
  EXPECT_EQ(wire_number_of_reading(342, 1'023, gears), 1);
  EXPECT_EQ(wire_number_of_reading(1'023, 1'023, gears), 2);
}

TEST(WireNumbers, AnEightBitRegisterWrapsAndOtherRangesAreHeld) {
  EXPECT_EQ(number_shown(300, {.low = 0, .high = 255}), 44);
  EXPECT_EQ(number_shown(-1, {.low = 0, .high = 255}), 255);
  EXPECT_EQ(number_shown(300, {.low = 0, .high = 100}), 100);
  EXPECT_EQ(number_shown(-1, {.low = 100, .high = 0}), 0);
}

}  // namespace
}  // namespace understudy
