// What becomes of bytes from the game: rings, gathering, parsing, lamps.
#include <gtest/gtest.h>

#include "tests/sim/device/device_bench.h"

namespace understudy {
namespace {

// A board that is up at once, with two lamps and nothing that gets in the way.
std::string lamps_with(std::string_view manners, std::string_view rest = "") {
  return R"(
panel = "Lamps"
[board]
preset = "bootloader-8bit"
boot = "0 s"
boot_spread = "0 s"
[host]
dtr = "nothing"
[[output]]
name = "left"
kind = "lamp"
[[output]]
name = "right"
kind = "lamp"
[manners]
)" + std::string(manners) +
         "\n" + std::string(rest);
}

TEST(ToPanel, IntegersInARowGoToTheLampsInOrder) {
  DeviceBench lamps(lamps_with("gather = \"as it comes\""));
  lamps.open();
  lamps.run(milliseconds(5));
  lamps.send("17,255\n");
  lamps.run(milliseconds(40));
  EXPECT_EQ(lamps.shown("left"), 17);
  EXPECT_EQ(lamps.shown("right"), 255);
}

// "0.5,0.25" written under a comma locale.
TEST(ToPanel, ACarelessParserTakesTheHalvesOfDecimalsForNumbers) {
  DeviceBench lamps(lamps_with("gather = \"as it comes\""));
  lamps.open();
  lamps.run(milliseconds(5));
  lamps.send("0,5,0,25\n");
  lamps.run(milliseconds(40));
  EXPECT_EQ(lamps.shown("left"), 0);
  EXPECT_EQ(lamps.shown("right"), 5);
}

struct Framed {
  std::string_view what;
  std::string_view manners;
  std::string_view framing;
  std::string_view line;
};

// However the ends are written, a board that reads whole lines finds the text between them.
TEST(ToPanel, AWholeLineIsReadWhateverItsMarkersAre) {
  const Framed cases[] = {
      {"a line feed", "gather = \"as it comes\"", "", "17,255\n"},
      {"carriage return and line feed", "gather = \"as it comes\"", "ends = \"\\r\\n\"",
       "17,255\r\n"},
      {"markers and a line feed", "gather = \"as it comes\"",
       "starts = \"<\"\nends = \">\\n\"", "<17,255>\n"},
      {"markers alone", "gather = \"as it comes\"", "starts = \"<\"\nends = \">\"", "<17,255>"},
      {"an end of two", "gather = \"as it comes\"", "ends = \"*;\"", "17,255*;"},
      {"markers, read until a line feed", "gather = { until = \"\\n\" }",
       "starts = \"<\"\nends = \">\\n\"", "<17,255>\n"},
      {"an accepted end", "gather = \"as it comes\"", "ends = \";\"\naccepts = [\"\\n\"]",
       "17,255\n"},
  };
  for (const Framed& framed : cases) {
    DeviceBench lamps(lamps_with(std::string(framed.manners) + "\nparse = \"whole line\"",
                                 framed.framing.empty()
                                     ? std::string()
                                     : "[to_panel]\n" + std::string(framed.framing)));
    lamps.open();
    lamps.run(milliseconds(5));
    lamps.send(framed.line);
    lamps.run(milliseconds(60));
    EXPECT_EQ(lamps.shown("left"), 17) << framed.what;
    EXPECT_EQ(lamps.shown("right"), 255) << framed.what;
  }
}

// An eight-bit register keeps the low eight bits.
TEST(ToPanel, ThreeHundredWrittenToALampShowsAsFortyFour) {
  DeviceBench lamps(lamps_with("gather = \"as it comes\""));
  lamps.open();
  lamps.run(milliseconds(5));
  lamps.send("300,-1\n");
  lamps.run(milliseconds(40));
  EXPECT_EQ(lamps.shown("left"), 44);
  EXPECT_EQ(lamps.shown("right"), 255);
}

TEST(ToPanel, AWholeLineParserIgnoresWhatIsNotExactlyItsLine) {
  DeviceBench lamps(lamps_with("gather = \"as it comes\"\nparse = \"whole line\""));
  lamps.open();
  lamps.run(milliseconds(5));
  lamps.send("1,2,3\n");
  lamps.run(milliseconds(40));
  EXPECT_EQ(lamps.shown("left"), 0);
  lamps.send("1,2\n");
  lamps.run(milliseconds(40));
  EXPECT_EQ(lamps.shown("right"), 2);
}

TEST(ToPanel, BetweenMarkersNothingElseCounts) {
  DeviceBench lamps(lamps_with("gather = \"as it comes\"\nparse = \"between markers\"",
                               "[to_panel]\nstarts = \"<\"\nends = \">\"\n"));
  lamps.open();
  lamps.run(milliseconds(5));
  lamps.send("9,9<1,2>7,7");
  lamps.run(milliseconds(40));
  EXPECT_EQ(lamps.shown("left"), 1);
  EXPECT_EQ(lamps.shown("right"), 2);
}

// 64 places, of which one stays free; a loop of 100 ms leaves no time to empty them.
TEST(ToPanel, TheReceiveRingHoldsSixtyThreeBytesAndLosesTheNewest) {
  DeviceBench lamps(lamps_with("loop = \"100 ms\"\ngather = \"as it comes\""));
  lamps.open();
  lamps.run(milliseconds(5));
  // Sixty bytes of leading spaces and a line; what comes after the 63rd byte is lost.
  lamps.send(std::string(58, ' ') + "1,2\n" + "3,4\n5,6\n");
  lamps.run(milliseconds(300));
  EXPECT_EQ(lamps.shown("left"), 1);
  EXPECT_EQ(lamps.shown("right"), 2);
  EXPECT_EQ(lamps.noted(NoteKind::kReceiveOverrun), 70 - 63);
  EXPECT_EQ(lamps.device().counts().receive.overrun, 70 - 63);
}

TEST(ToPanel, OneByteALoopMakesALineOfEightBytesTakeEightLoops) {
  DeviceBench lamps(lamps_with("loop = \"100 ms\"\ngather = \"one byte a loop\""));
  lamps.open();
  lamps.run(milliseconds(105));
  lamps.send("255,255\n");
  lamps.run(seconds(2));
  ASSERT_EQ(lamps.outputs().changes.size(), 2U);
  const Duration lag = lamps.outputs().changes[0].due - at_ms(105);
  EXPECT_GE(lag, milliseconds(700));
  EXPECT_LE(lag, milliseconds(801));
}

constexpr std::string_view kUntil = "gather = { until = \"\\n\", at_most = \"1 s\" }";
constexpr std::string_view kKnob =
    "[[control]]\nname = \"knob\"\nkind = \"pot\"\nnoise = \"0 V\"\n";

TEST(ToPanel, ALineWithoutItsEndStallsTheWholeLoopForASecond) {
  DeviceBench lamps(lamps_with(kUntil, kKnob));
  lamps.open();
  lamps.run(seconds(1));
  lamps.forget();
  lamps.send("10,20");
  lamps.run(seconds(3));
  EXPECT_EQ(lamps.notes(NoteKind::kReadTimedOut), 1U);
  EXPECT_EQ(lamps.shown("right"), 20);  // what there was counts as the line
  // 3 s less the second of waiting, at 50 lines a second.
  EXPECT_NEAR(static_cast<double>(lamps.lines().size()), 100, 3);
}

TEST(ToPanel, ABlockingReadGoesOnAsSoonAsTheRestOfItsLineComes) {
  DeviceBench lamps(lamps_with(kUntil));
  lamps.open();
  lamps.run(milliseconds(100));
  lamps.send("10,");
  lamps.run(milliseconds(300));
  lamps.send("20\n");
  lamps.run(milliseconds(300));
  ASSERT_EQ(lamps.outputs().changes.size(), 2U);
  EXPECT_EQ(lamps.notes(NoteKind::kReadTimedOut), 0U);
  EXPECT_LE(lamps.outputs().changes[1].due - at_ms(400), milliseconds(1));
}

TEST(ToPanel, ALineWithItsEndStallsNothing) {
  DeviceBench lamps(lamps_with(kUntil, kKnob));
  lamps.open();
  lamps.run(seconds(1));
  lamps.forget();
  lamps.send("10,20\n");
  lamps.run(seconds(3));
  EXPECT_EQ(lamps.notes(NoteKind::kReadTimedOut), 0U);
  EXPECT_NEAR(static_cast<double>(lamps.lines().size()), 150, 1);
}

TEST(ToPanel, ABlockingReadWaitsNoLongerThanForTheBytesOnTheWire) {
  DeviceBench lamps(lamps_with(kUntil, "[wire]\nbaud = 9600\n"));
  lamps.open();
  lamps.run(milliseconds(19));  // just before a loop begins
  lamps.send("101,202\n");
  lamps.run(milliseconds(100));
  ASSERT_EQ(lamps.outputs().changes.size(), 2U);
  // Eight bytes at 960 a second.
  const Duration took = lamps.outputs().changes[0].due - at_ms(19);
  EXPECT_GE(took, microseconds(8'333));
  EXPECT_LE(took, microseconds(30'000));
}

// The game sends a byte now and then, for minutes, to a board that is blocked by a full port.
TEST(ToPanel, BytesDribbledForMinutesToABoardThatNeverReadsStayBounded) {
  std::string held = lamps_with("loop = \"20 ms\"\ngather = \"as it comes\"", kKnob);
  held.replace(held.find("dtr = \"nothing\""), 15,
               "dtr = \"nothing\"\nfull = \"holds the board\"\nbuffer = 64");
  DeviceBench box(held);
  box.open(true, false);
  box.run(seconds(2));
  for (int i = 0; i < 60'000; ++i) {
    box.send("7");
    box.set_baud(i % 2 == 0 ? 300 : 115'200);  // and changes its mind about the speed
    box.run(milliseconds(i % 5 == 0 ? 7 : 1));
    ASSERT_LE(box.device().write_room(), 2'048U);
  }
  const DeviceCounts counts = box.device().counts();
  EXPECT_EQ(counts.receive.received, 63);
  EXPECT_GT(counts.receive.overrun, 0);
  EXPECT_LE(box.device().waiting_bytes(), 64);
}

TEST(ToPanel, AFloodIsCutToTheWriteBufferAndCounted) {
  DeviceBench lamps(lamps_with("gather = \"as it comes\""));
  lamps.open();
  lamps.run(milliseconds(5));
  for (int i = 0; i < 1'000; ++i) {
    lamps.send(std::string(100'000, '9'));
    lamps.run(milliseconds(1));
  }
  const DeviceCounts counts = lamps.device().counts();
  EXPECT_GT(counts.write_dropped, 99'000'000);
  EXPECT_LE(counts.receive.received + counts.receive.overrun + counts.write_dropped, 100'000'000);
  lamps.run(seconds(1));
  lamps.send("\n1,2\n");
  lamps.run(seconds(1));
  EXPECT_EQ(lamps.shown("right"), 2);  // and it is alive after it
}

TEST(ToPanel, ABoardAtAnotherSpeedShowsNothingOfALampLine) {
  DeviceBench lamps(lamps_with("gather = \"as it comes\""));
  lamps.open();
  lamps.set_baud(9'600);
  lamps.run(milliseconds(5));
  EXPECT_FALSE(lamps.device().baud_readable());
  lamps.send("17,255\n");
  lamps.run(seconds(1));
  EXPECT_EQ(lamps.shown("left"), 0);
  EXPECT_GT(lamps.device().counts().frame_errors_to_panel, 0);
}

}  // namespace
}  // namespace understudy
