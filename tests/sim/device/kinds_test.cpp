// Every kind of control and output in a running device: what its line says when a hand moves it,
// and what it shows when the game writes.
#include <gtest/gtest.h>

#include "tests/sim/device/device_bench.h"

namespace understudy {
namespace {

// A board that is up at once, sends every 10 ms, and has no noise of its own.
std::string quick(std::string_view rest) {
  return R"(
panel = "Kinds"
[board]
preset = "bootloader-8bit"
boot = "0 s"
boot_spread = "0 s"
[manners]
loop = "10 ms"
gather = "as it comes"
[host]
dtr = "nothing"
)" + std::string(rest);
}

// The last line that arrived by now.
std::string last_line(const DeviceBench& bench) {
  const std::vector<std::string> lines = bench.lines();
  return lines.empty() ? "" : lines.back();
}

DeviceBench opened(std::string_view rest) {
  DeviceBench bench{quick(rest)};
  bench.open();
  bench.run(milliseconds(60));
  return bench;
}

constexpr std::int32_t kClick = 1'000'000 / 24;  // of an encoder with 24 detents

TEST(Kinds, ASelectorSendsTheNumberOfItsPlaceOrItsWord) {
  DeviceBench bench = opened(R"(
[[control]]
name = "mode"
kind = "selector"
places = 4
bounce = "none"
[[control]]
name = "line"
kind = "selector"
sends = ["north", "centre", "south"]
bounce = "none"
)");
  EXPECT_EQ(last_line(bench), "0,north");
  bench.move("mode", 1'000'000);
  bench.move("line", 500'000);
  bench.run(milliseconds(60));
  EXPECT_EQ(last_line(bench), "3,centre");
}

// While no contact is closed a careful program keeps the last place, a careless one reads the
// first.
TEST(Kinds, InTheGapOfASelectorTheProgramKeepsThePlaceOrReadsTheFirst) {
  for (const bool keeps : {true, false}) {
    DeviceBench bench = opened(std::string(R"(
[[control]]
name = "mode"
kind = "selector"
places = 3
bounce = "none"
)") + (keeps ? "" : "in_gap = \"reports the first place\"\n"));
    bench.move("mode", 1'000'000);
    bench.run(milliseconds(60));
    ASSERT_EQ(last_line(bench), "2");
    bench.move("mode", 500'000, seconds(2), Curve::kLinear);
    bench.run(milliseconds(1'060));
    EXPECT_EQ(last_line(bench), keeps ? "2" : "0");
    bench.run(seconds(1));
    EXPECT_EQ(last_line(bench), "1");
  }
}

TEST(Kinds, ASelectorThatMakesBeforeItBreaksReadsTheLowerOfBothPlaces) {
  DeviceBench bench = opened(R"(
[[control]]
name = "mode"
kind = "selector"
places = 3
timing = "make-before-break"
bounce = "none"
)");
  bench.move("mode", 500'000);
  bench.run(milliseconds(60));
  ASSERT_EQ(last_line(bench), "1");
  bench.move("mode", 0, seconds(2), Curve::kLinear);
  bench.run(milliseconds(1'060));
  EXPECT_EQ(last_line(bench), "0");
}

constexpr std::string_view kKnob = R"(
[[control]]
name = "knob"
kind = "encoder"
[[line]]
to = "game"
text = "{knob.count} {knob.step}"
)";

// The steps of all lines together are the count: none is lost between two lines, none sent twice.
TEST(Kinds, TheStepsOfAnEncoderAddUpToItsCount) {
  DeviceBench bench = opened(kKnob);
  for (const int clicks : {3, -1, 5, 1, -12}) {
    bench.move("knob", clicks * kClick, seconds(2), Curve::kMinimumJerk);
    bench.run(seconds(3));
  }
  std::int64_t sum = 0;
  for (const std::string& line : bench.lines()) sum += std::stoll(line.substr(line.find(' ')));
  EXPECT_EQ(sum, 3 - 1 + 5 + 1 - 12);
  EXPECT_EQ(last_line(bench), "-4 0");
}

// 60 turns a minute, the fastest that the Bourns PEC11R sheet allows: an edge each 10.4 ms. A loop
// of 10 ms follows (and one of 40 ms does not); a program that is interrupted always does.
TEST(Kinds, AnEncoderTurnedFastIsMiscountedByASlowLoopAndNotByInterrupts) {
  for (const bool interrupts : {false, true}) {
    const std::string how = interrupts ? "read = \"every edge\"\n" : "";
    DeviceBench bench(quick("") + "[[control]]\nname = \"knob\"\nkind = \"encoder\"\n" + how +
                      "[[line]]\nto = \"game\"\ntext = \"{knob.count}\"\n");
    bench.open();
    bench.move("knob", 4 * 1'000'000, seconds(1), Curve::kLinear);  // 240 turns a minute
    bench.run(seconds(2));
    const std::int64_t count = std::stoll(last_line(bench));
    if (interrupts)
      EXPECT_EQ(count, 96);
    else
      EXPECT_NE(count, 96);
  }
}

TEST(Kinds, ACountWrapsAroundInItsRange) {
  DeviceBench bench = opened(R"(
[[control]]
name = "knob"
kind = "encoder"
read = "every edge"
sends = [0, 23]
[[line]]
to = "game"
text = "{knob.count}"
)");
  bench.move("knob", -kClick, milliseconds(50), Curve::kLinear);
  bench.run(milliseconds(200));
  EXPECT_EQ(last_line(bench), "23");
  bench.move("knob", 3 * kClick, milliseconds(50), Curve::kLinear);
  bench.run(milliseconds(200));
  EXPECT_EQ(last_line(bench), "2");
}

TEST(Kinds, AStickRestsAtItsCentreMovesBothWaysAndPresses) {
  DeviceBench bench = opened(R"(
[[control]]
name = "stick"
kind = "stick"
centre = ["48 %", "52 %"]
noise = "0 V"
bounce = "none"
press_sends = [0, 1]
)");
  // 48 % and 52 % of 1024 codes, truncated: 491 and 532; a neighbour's rest moves them by a code.
  EXPECT_EQ(last_line(bench), "491,532,0");
  bench.move("stick.x", 1'000'000);
  bench.move("stick.y", 0);
  bench.move("stick.press", 1'000'000);
  bench.run(milliseconds(60));
  EXPECT_EQ(last_line(bench), "1023,0,1");
}

TEST(Kinds, ASensorIsReadThroughTheConverter) {
  DeviceBench bench = opened(R"(
[[control]]
name = "light"
kind = "sensor"
course = "sine"
level = "50 %"
swing = "50 %"
period = "4 s"
noise = "0 V"
[[control]]
name = "air"
kind = "sensor"
level = "25 %"
noise = "0 V"
sends = [-20.0, 60.0]
decimals = 1
)");
  bench.run(milliseconds(960));  // a quarter of the period: the top
  EXPECT_EQ(last_line(bench).substr(0, 5), "1023,");
  // A quarter of 1024 codes is 256 of 1023 steps of the range of 80 degrees: 0.0 (0.02 above 0).
  EXPECT_EQ(last_line(bench).substr(5), "0.0");
  bench.run(seconds(2));
  EXPECT_LE(std::stoi(last_line(bench)), 1);
}

std::string matrix(bool diodes) {
  std::string text =
      std::string("[matrix]\nrows = [\"D2\", \"D3\"]\ncolumns = [\"D4\", \"D5\"]\n") +
      "diodes = " + (diodes ? "true" : "false") + "\n";
  for (const char* cell : {"1, 1", "1, 2", "2, 1", "2, 2"})
    text += "[[control]]\nname = \"b" + std::string(1, cell[0]) + std::string(1, cell[3]) +
            "\"\nkind = \"button\"\nsends = [0, 1]\nbounce = \"none\"\ncell = [" + cell + "]\n";
  return text;
}

TEST(Kinds, ThreeButtonsOfAMatrixWithoutDiodesPressAFourth) {
  for (const bool diodes : {true, false}) {
    DeviceBench bench = opened(matrix(diodes));
    bench.press("b11");
    bench.press("b21");
    bench.run(milliseconds(60));
    EXPECT_EQ(last_line(bench), "1,0,1,0");
    bench.press("b22");
    bench.run(milliseconds(60));
    EXPECT_EQ(last_line(bench), diodes ? "1,0,1,1" : "1,1,1,1");
  }
}

// 1 Mohm beside a pull-up of 35 kohm leaves the pin high: such a contact pulls nothing down, and
// carries no ghost either.
TEST(Kinds, AWornContactOfAMatrixCarriesNoGhost) {
  std::string panel = matrix(false);
  panel.insert(panel.rfind("cell = [2, 2]"), "contact = \"1 Mohm\"\n");
  DeviceBench bench = opened(panel);
  bench.press("b11");
  bench.press("b21");
  bench.press("b22");
  bench.run(milliseconds(60));
  EXPECT_EQ(last_line(bench), "1,0,1,0");
}

// ATmega328P (8161D, 8271H): 14 pF, 1.5 clocks of 125 kHz; after a full step a source of 1 Mohm
// (with 10 kohm inside) leaves exp(-12 us / 14.14 us) = 0.428 of it. At full against a neighbour at
// zero: 1 - 0.428 of 1024 codes.
TEST(Kinds, AHighSourceReadsAGhostOfItsNeighbour) {
  DeviceBench bench = opened(R"(
[[control]]
name = "low"
kind = "pot"
noise = "0 V"
[[control]]
name = "high"
kind = "pot"
noise = "0 V"
source = "1 Mohm"
rest = "100 %"
)");
  const int high = std::stoi(last_line(bench).substr(2));
  EXPECT_NEAR(high, 1'024 * (1 - 0.428), 3);
}

TEST(Kinds, AnRgbLampTakesThreeNumbers) {
  DeviceBench bench = opened(R"(
[[output]]
name = "light"
kind = "rgb"
[[output]]
name = "red"
kind = "lamp"
)");
  bench.send("10,20,30,40\n");
  bench.run(milliseconds(40));
  EXPECT_EQ(bench.shown("light.r"), 10);
  EXPECT_EQ(bench.shown("light.g"), 20);
  EXPECT_EQ(bench.shown("light.b"), 30);
  EXPECT_EQ(bench.shown("red"), 40);
  ASSERT_EQ(bench.outputs().changes.size(), 4U);
  EXPECT_EQ(bench.outputs().changes[2].output, 0);
  EXPECT_EQ(bench.outputs().changes[2].part, 2);
}

TEST(Kinds, ANeedleTakesItsTimeAndThenPointsWhereItWasTold) {
  DeviceBench bench = opened(R"(
[[output]]
name = "speed"
kind = "gauge"
takes = [0, 60]
sweep = "180 deg"
slew = "120 ms"
)");
  const auto needle = [&] { return bench.device().powered().needle_mdeg(bench.now(), 0); };
  EXPECT_EQ(needle(), 0);
  bench.send("30\n");
  bench.run(milliseconds(100));
  EXPECT_GT(needle(), 10'000);
  EXPECT_LT(needle(), 60'000);  // 60 degrees take 120 ms
  bench.run(seconds(2));
  EXPECT_NEAR(static_cast<double>(needle()), 90'000, 10);
}

// Twelve LEDs of 2 V behind 10 ohm draw 60 mA each where a pin has 40 ohm of its own: more than the
// 500 mA that a USB port gives (USB 2.0, section 7.2.1). Three of them are not.
TEST(Kinds, ABoardWhoseLampsAskForTooMuchStartsAnewInTheDark) {
  std::string panel = quick("[[control]]\nname = \"pot\"\nkind = \"pot\"\n");
  for (int i = 0; i < 12; ++i)
    panel += "[[output]]\nname = \"l" + std::to_string(i) +
             "\"\nkind = \"lamp\"\nresistor = \"10 ohm\"\n";
  DeviceBench bench{panel};
  bench.open();
  bench.run(milliseconds(60));
  bench.send("255,255,255,0,0,0,0,0,0,0,0,0\n");
  bench.run(milliseconds(100));
  EXPECT_EQ(bench.notes(NoteKind::kBrownedOut), 0U);
  EXPECT_EQ(bench.shown("l0"), 255);
  bench.send("255,255,255,255,255,255,255,255,255,255,255,255\n");
  bench.run(milliseconds(100));
  EXPECT_EQ(bench.notes(NoteKind::kBrownedOut), 1U);
  EXPECT_GT(bench.noted(NoteKind::kBrownedOut), 500'000);  // microamperes
  EXPECT_EQ(bench.shown("l0"), 0);
  EXPECT_EQ(bench.shown("l11"), 0);
  EXPECT_FALSE(bench.lines().empty());
}

}  // namespace
}  // namespace understudy
