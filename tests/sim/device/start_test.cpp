// What opening, closing and the modem lines do to a box: restarts, silence, the gate.
#include <gtest/gtest.h>

#include "tests/sim/device/device_bench.h"

namespace understudy {
namespace {

constexpr std::string_view kDesk = R"(
panel = "Desk"
[board]
preset = "bootloader-8bit"
boot = "1.5 s"
boot_spread = "0.3 s"
[manners]
loop = "20 ms"
gather = "as it comes"
hello = "desk 1"
[host]
dtr = "restarts the board"
[[control]]
name = "knob"
kind = "pot"
noise = "0 V"
[[control]]
name = "bell"
kind = "button"
sends = [0, 1]
bounce = "none"
[[output]]
name = "lamp"
kind = "lamp"
)";

TEST(Start, OpeningThePortRestartsTheBoardAndItIsSilentForItsBoot) {
  DeviceBench desk(kDesk);
  desk.run(seconds(10));
  desk.open();
  desk.run(seconds(5));
  ASSERT_EQ(desk.notes(NoteKind::kRestarted), 1U);
  const Duration boot{desk.noted(NoteKind::kRestarted)};
  EXPECT_GE(boot, milliseconds(1'200));
  EXPECT_LE(boot, milliseconds(1'800));
  ASSERT_FALSE(desk.outputs().chunks.empty());
  const Duration silence = desk.outputs().chunks[0].due - at(seconds(10));
  EXPECT_GE(silence, boot);
  EXPECT_LE(silence, boot + milliseconds(5));  // a line's bytes and one beat of the host's timer
}

TEST(Start, TheHelloComesOnceAndBeforeTheFirstLine) {
  DeviceBench desk(kDesk);
  desk.open();
  desk.run(seconds(4));
  const auto lines = desk.lines();
  ASSERT_GE(lines.size(), 100U);
  EXPECT_EQ(lines[0], "desk 1");
  for (std::size_t i = 1; i < lines.size(); ++i) EXPECT_EQ(lines[i], "0,0");
}

TEST(Start, TheFirstLoopBeginsAsSoonAsTheHelloIsPrinted) {
  DeviceBench desk(kDesk);
  desk.open();
  desk.run(seconds(4));
  const Instant hello = handed_over_at(desk.outputs(), 0);
  const Instant first_line = handed_over_at(desk.outputs(), 7);
  EXPECT_LE(first_line - hello, milliseconds(5));
}

TEST(Start, ARestartTurnsTheLampsOff) {
  DeviceBench desk(kDesk);
  desk.open();
  desk.run(seconds(3));
  desk.send("200\n");
  desk.run(milliseconds(50));
  EXPECT_EQ(desk.shown("lamp"), 200);
  desk.close();
  desk.run(seconds(1));
  EXPECT_EQ(desk.shown("lamp"), 200);  // nobody told the board that the game is gone
  desk.open();
  desk.run(milliseconds(1));
  EXPECT_EQ(desk.shown("lamp"), 0);
  ASSERT_EQ(desk.outputs().changes.size(), 2U);
}

// A lamp whose range is written from full to dark is dark at 255.
TEST(Start, ALampOfReversedRangeIsDarkAtPowerOnAndAfterARestart) {
  const std::string reversed = std::string(kDesk) + "takes = [255, 0]\n";
  DeviceBench desk(reversed);
  EXPECT_EQ(desk.shown("lamp"), 255);
  desk.open();
  desk.run(seconds(3));
  desk.send("10\n");
  desk.run(milliseconds(50));
  EXPECT_EQ(desk.shown("lamp"), 10);
  desk.set_dtr(false);
  desk.run(milliseconds(1));
  desk.set_dtr(true);
  desk.run(milliseconds(1));
  EXPECT_EQ(desk.shown("lamp"), 255);
}

TEST(Start, BytesThatArriveWhileTheBoardStartsAreLostAndCounted) {
  DeviceBench desk(kDesk);
  desk.open();
  desk.run(milliseconds(100));
  desk.send("200\n");
  desk.run(seconds(3));
  EXPECT_EQ(desk.shown("lamp"), 0);
  EXPECT_EQ(desk.noted(NoteKind::kLostInBoot), 4);
  EXPECT_EQ(desk.device().counts().receive.lost_in_boot, 4);
}

TEST(Start, DtrRaisedAgainRestartsButDtrHeldDoesNot) {
  DeviceBench desk(kDesk);
  desk.open(false);
  desk.run(seconds(3));
  EXPECT_EQ(desk.notes(NoteKind::kRestarted), 0U);
  desk.set_dtr(true);
  desk.run(seconds(3));
  EXPECT_EQ(desk.notes(NoteKind::kRestarted), 1U);
  desk.set_dtr(true);
  desk.run(seconds(3));
  EXPECT_EQ(desk.notes(NoteKind::kRestarted), 1U);
}

TEST(Start, WhatWasPrintedWhileThePortWasClosedNeverReachesTheGame) {
  std::string calm(kDesk);
  calm.replace(calm.find("restarts the board"), 18, "nothing");
  DeviceBench desk(calm);
  desk.run(seconds(10));
  EXPECT_TRUE(desk.received().empty());
  desk.open();
  desk.run(milliseconds(100));
  EXPECT_LE(desk.lines().size(), 6U);
  EXPECT_GT(desk.noted(NoteKind::kNobodyListening), 1'000);
  EXPECT_EQ(desk.noted(NoteKind::kNobodyListening), desk.device().counts().host.dropped_unheard);
}

// Joining in the middle: what is on the wire when the port opens arrives from its middle on.
TEST(Start, OpeningInTheMiddleOfALineGivesItsEnd) {
  std::string slow(kDesk);
  slow.replace(slow.find("restarts the board"), 18, "nothing");
  slow += "[wire]\nbaud = 300\n";
  DeviceBench desk(slow);
  desk.run(seconds(5));
  bool cut = false;
  for (int i = 0; i < 20 && !cut; ++i) {
    desk.open();
    desk.run(milliseconds(333));
    desk.close();
    desk.run(milliseconds(77));
    cut = !desk.received().empty() && desk.received()[0] != '0';
    desk.forget();
  }
  EXPECT_TRUE(cut);
}

constexpr std::string_view kGated = R"(
panel = "Gated"
board = "native-usb-32bit"
[manners]
hello = "gated 1"
gather = "as it comes"
[[control]]
name = "knob"
kind = "pot"
noise = "0 V"
)";

TEST(Start, ABoardBehindTheGateSpeaksOnlyWhileDtrIsRaised) {
  DeviceBench gated(kGated);
  gated.open(false);
  gated.run(seconds(1));
  EXPECT_TRUE(gated.received().empty());
  EXPECT_GT(gated.device().counts().gate_dropped, 0);
  gated.set_dtr(true);
  gated.run(seconds(1));
  EXPECT_NEAR(static_cast<double>(gated.lines().size()), 50, 1);
  EXPECT_EQ(gated.notes(NoteKind::kRestarted), 0U);
  gated.set_dtr(false);
  gated.run(milliseconds(10));
  gated.forget();
  gated.run(seconds(1));
  EXPECT_TRUE(gated.received().empty());
}

}  // namespace
}  // namespace understudy
