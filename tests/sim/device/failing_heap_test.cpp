// Programs whose memory goes to pieces: lines that shrink until the box is silent, after hours of
// virtual time. Which parts of a line find room is tested in tests/sim/manners/.
#include <gtest/gtest.h>

#include "tests/sim/device/device_bench.h"

namespace understudy {
namespace {

std::string failing(const std::string& heap, const std::string& line) {
  return "panel = \"Desk\"\n[board]\nboot = \"500 ms\"\nboot_spread = \"0 s\"\n"
         "[wire]\nboard_clock_error = \"0%\"\n[manners]\nloop = \"20 ms\"\nheap = " +
         heap +
         "\n[[control]]\nname = \"knob\"\nkind = \"pot\"\nnoise = \"0 V\"\n"
         "[[control]]\nname = \"bell\"\nkind = \"button\"\nsends = [0, 1]\nbounce = \"none\"\n"
         "[[control]]\nname = \"wheel\"\nkind = \"pot\"\nnoise = \"0 V\"\n"
         "[[output]]\nname = \"lamp\"\nkind = \"lamp\"\n" +
         (line.empty() ? "" : "[[line]]\nto = \"game\"\ntext = \"" + line + "\"\n");
}

// A line a loop of 20 ms, a byte lost after each line: line n finds 12 - n bytes. "1023,0,1023" is
// 11 characters and takes 12; one byte less, and the last part finds no room.
TEST(Heap, LinesLosePartsThenAllAndThenTheProgramStops) {
  DeviceBench desk(failing("{ free = 12, lost = 1, lines = 1 }", ""));
  desk.move("knob", kFullTravel);
  desk.move("wheel", kFullTravel);
  desk.run(milliseconds(100));
  desk.open();
  desk.run(seconds(2));
  const std::vector<std::string> expected = {
      "1023,0,1023",  // 12 bytes
      "1023,0,",      // 11, 10, 9, 8: the last number finds no room
      "1023,0,",
      "1023,0,",
      "1023,0,",
      "1023,0",  // 7
      "1023,",   // 6: the 0 has none
      "1023",    // 5
      ",0,",     // 4: the first number has none, but what follows has
      ",0",      // 3
      ",",       // 2
      "",        // 1
  };
  const std::vector<std::string> lines = desk.lines();
  EXPECT_EQ(lines.size(), expected.size());
  EXPECT_EQ(lines, expected);
  ASSERT_EQ(desk.notes(NoteKind::kProgramStopped), 1U);
  EXPECT_EQ(desk.noted(NoteKind::kProgramStopped), 12);
  EXPECT_TRUE(desk.device().stopped());
}

// 50 lines a second, a byte lost every 500 of them: 1200 bytes last 12000 s, and a line of 11
// characters is whole until 11 are left, after 11890 s. Counted from the first line, 500 ms after
// the reset at 1 us.
TEST(Heap, ABoxThatWasWellForHoursFailsAndFallsSilentWithThePortOpen) {
  DeviceBench desk(failing("{ free = 1200, lost = 1, lines = 500 }", ""));
  desk.move("knob", kFullTravel);
  desk.move("wheel", kFullTravel);
  desk.open();
  desk.run(milliseconds(500) + seconds(11'890));
  const std::vector<std::string> whole = desk.lines();
  EXPECT_EQ(whole.size(), 594'500U);
  for (const std::string& line : whole) ASSERT_EQ(line, "1023,0,1023");
  desk.forget();
  desk.run(seconds(100));
  const std::vector<std::string> failing = desk.lines();
  EXPECT_EQ(failing.size(), 5'000U);
  EXPECT_EQ(failing.front(), "1023,0,");
  EXPECT_EQ(failing.back(), ",");
  desk.forget();
  desk.run(seconds(10) + milliseconds(10));
  EXPECT_EQ(desk.received(), std::string(500, '\n'));
  ASSERT_EQ(desk.notes(NoteKind::kProgramStopped), 1U);
  EXPECT_EQ(desk.noted(NoteKind::kProgramStopped), 600'000);
  desk.forget();
  desk.run(seconds(3'600));
  EXPECT_TRUE(desk.received().empty());
  EXPECT_EQ(desk.device().next_due(), kNever);
}

TEST(Heap, ARestartHealsIt) {
  DeviceBench desk(failing("{ free = 100, lost = 10, lines = 5 }", ""));
  desk.open();
  desk.run(seconds(10));
  EXPECT_TRUE(desk.device().stopped());
  EXPECT_EQ(desk.device().counts().lines_printed, 50U);
  desk.close();
  desk.run(seconds(1));
  EXPECT_TRUE(desk.device().stopped());  // closing alone does nothing
  desk.forget();
  desk.open();
  desk.run(seconds(1));
  EXPECT_FALSE(desk.device().stopped());
  EXPECT_EQ(desk.lines().front(), "0,0,0");
  EXPECT_EQ(desk.lines().size(), 25U);
}

TEST(Heap, AStoppedProgramReadsNothingAndItsLampsStayAsTheyAre) {
  DeviceBench desk(failing("{ free = 100, lost = 10, lines = 5 }", ""));
  desk.open();
  desk.run(milliseconds(600));
  desk.send("200\n");
  desk.run(seconds(5));
  ASSERT_TRUE(desk.device().stopped());
  EXPECT_EQ(desk.shown("lamp"), 200);
  for (int i = 0; i < 100; ++i) {
    desk.send("10\n");
    desk.run(milliseconds(10));
  }
  EXPECT_EQ(desk.shown("lamp"), 200);
  EXPECT_EQ(desk.device().counts().receive.received, 4 + 63);  // and then its ring is full
  EXPECT_GT(desk.noted(NoteKind::kReceiveOverrun), 200);
}

TEST(Heap, ThatLosesNothingIsNeverUsedUpAndCutsEachLineAlike) {
  DeviceBench desk(failing("{ free = 4, lost = 0, lines = 1 }", "K{knob:4};"));
  desk.open();
  desk.run(seconds(60));
  for (const std::string& line : desk.lines()) ASSERT_EQ(line, ";");  // K0000 finds no room
  EXPECT_GT(desk.lines().size(), 2'900U);
}

// What frames a line is printed from where it stands and stays whole.
TEST(Heap, StartAndEndOfALineSurvive) {
  DeviceBench desk(failing("{ free = 3, lost = 1, lines = 1 }", "") +
                   "[to_game]\nstarts = \"<\"\nends = \">\"\n");
  desk.open();
  desk.run(seconds(2));
  EXPECT_EQ(desk.received(), "<0,><0><>");
}

TEST(Heap, OfEnoughBytesChangesNoByteAndNoTime) {
  DeviceBench plain(failing("\"enough\"", ""));
  DeviceBench ample(failing("{ free = 1000000, lost = 1, lines = 1000 }", ""));
  for (DeviceBench* desk : {&plain, &ample}) {
    desk->open();
    desk->run(seconds(60));
  }
  EXPECT_EQ(plain.received(), ample.received());
  ASSERT_EQ(plain.outputs().chunks.size(), ample.outputs().chunks.size());
  for (std::size_t i = 0; i < plain.outputs().chunks.size(); ++i)
    ASSERT_EQ(plain.outputs().chunks[i].due, ample.outputs().chunks[i].due);
}

}  // namespace
}  // namespace understudy
