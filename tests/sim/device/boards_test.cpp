// Boards between their reset and their program: boot text at another speed, bytes that a loader
// takes; and the presets. All in virtual time, with times worked out by hand.
#include <gtest/gtest.h>

#include <algorithm>

#include "sim/panel/panel_file.h"
#include "sim/panel/presets.h"
#include "tests/sim/device/device_bench.h"

namespace understudy {
namespace {

// What a receiver reads of 8N1 bytes from a sender of another speed, one sample after the other:
// sixteen samples a bit, a start bit at a fall of the line, the middle three samples vote, and
// after a low stop bit the line has to rise first. (ATmega328P data sheet 8271H, 20.8.1 to 20.8.3;
// written for this test alone, in floating point, from a list of the line's levels.)
std::string sampled_by_hand(const std::string& sent, double sender_baud, double own_baud) {
  std::vector<int> levels;  // one for each of the sender's bits
  for (const char c : sent) {
    levels.push_back(0);
    for (int bit = 0; bit < 8; ++bit) levels.push_back(static_cast<unsigned char>(c) >> bit & 1);
    levels.push_back(1);
  }
  const auto line = [&](long k) {
    const auto bit = static_cast<std::size_t>(static_cast<double>(k) * sender_baud / own_baud / 16);
    return bit < levels.size() ? levels[bit] : 1;
  };
  const auto vote = [&](long k) { return line(k + 7) + line(k + 8) + line(k + 9) >= 2 ? 1 : 0; };
  const long end =
      static_cast<long>(static_cast<double>(levels.size()) * own_baud / sender_baud * 16) + 1;
  std::string read;
  for (long k = 0; k < end;) {
    if (line(k) == 1) {
      ++k;
    } else if (vote(k) == 1) {  // too short for a start bit
      k += 9;
      while (k < end && line(k) == 0) ++k;
    } else {
      int byte = 0;
      for (int bit = 0; bit < 8; ++bit) byte |= vote(k + 16 * (bit + 1)) << bit;
      read += static_cast<char>(byte);
      const bool framed = vote(k + 16 * 9) == 1;
      k += 16 * 9 + 10;
      while (!framed && k < end && line(k) == 0) ++k;
    }
  }
  return read;
}

std::size_t count_high(const std::string& bytes) {
  std::size_t count = 0;
  for (const char c : bytes) count += static_cast<unsigned char>(c) >= 0x80 ? 1U : 0U;
  return count;
}

// Boot of exactly 500 ms, and clocks without error, so that times can be worked out.
std::string board(const std::string& keys) {
  return "panel = \"Desk\"\n[board]\npreset = \"bootloader-8bit\"\nboot = \"500 ms\"\n"
         "boot_spread = \"0 s\"\n" +
         keys +
         "\n[wire]\nbaud = 115200\nboard_clock_error = \"0%\"\n"
         "[host]\nflush = \"4 ms\"\ndtr = \"restarts the board\"\n"
         "[manners]\nloop = \"20 ms\"\nhello = \"desk 1\"\n"
         "[[control]]\nname = \"knob\"\nkind = \"pot\"\nnoise = \"0 V\"\n"
         "[[control]]\nname = \"bell\"\nkind = \"button\"\nsends = [0, 1]\nbounce = \"none\"\n"
         "[[output]]\nname = \"lamp\"\nkind = \"lamp\"\n";
}

const std::string kText = "\r\nrom 7, reset cause 2, mode 3\r\n";
const std::string kSpeaks =
    "boot_text = \"\\r\\nrom 7, reset cause 2, mode 3\\r\\n\"\nboot_text_baud = 74880\n";

std::string before_hello(const std::string& received) {
  return received.substr(0, received.find("desk 1"));
}

TEST(BootText, ReadsAsTheGarbageThatSamplingItByHandGives) {
  DeviceBench desk(board(kSpeaks));
  desk.run(seconds(1));
  desk.open();
  desk.run(seconds(2));
  const std::string garbage = before_hello(desk.received());
  EXPECT_EQ(garbage, sampled_by_hand(kText, 74'880, 115'200));
  EXPECT_NE(garbage.find("desk 1"), 0U);
  EXPECT_GE(count_high(garbage), 5U);
  EXPECT_GT(desk.noted(NoteKind::kFrameErrors), 0);
  EXPECT_EQ(desk.lines().back(), "0,0");
}

TEST(BootText, ReadsAsTextByAGameOfItsOwnSpeedWhichThenCannotReadTheProgram) {
  DeviceBench desk(board(kSpeaks));
  desk.run(seconds(1));
  desk.open();
  desk.set_baud(74'880);
  desk.run(milliseconds(499));
  EXPECT_EQ(desk.received(), kText);
  desk.run(seconds(1));
  EXPECT_EQ(desk.received().find("desk 1"), std::string::npos);
}

TEST(BootText, IsReadAtWhateverSpeedTheGameSetWithinTenMilliseconds) {
  for (const std::int64_t baud : {9'600, 57'600, 230'400}) {
    DeviceBench desk(board(kSpeaks));
    desk.run(seconds(1));
    desk.open();
    desk.run(milliseconds(9));
    desk.set_baud(baud);
    desk.run(milliseconds(490));
    EXPECT_EQ(desk.received(), sampled_by_hand(kText, 74'880, static_cast<double>(baud))) << baud;
  }
}

// 33 bytes of ten bits at 74880 baud are 4.4071 ms; the first of them ends 0.13355 ms after its
// beginning, which is 10 ms after the reset at 1 s + 1 us.
TEST(BootText, TakesItsOwnTimeOnTheWire) {
  DeviceBench desk(board(kSpeaks));
  desk.run(seconds(1));
  desk.open();
  desk.set_baud(74'880);
  desk.run(milliseconds(400));
  ASSERT_FALSE(desk.outputs().chunks.empty());
  const Instant begins = at(seconds(1) + microseconds(1) + milliseconds(10));
  EXPECT_GE(desk.outputs().chunks.front().due, begins + nanoseconds(133'547));
  EXPECT_LE(desk.outputs().chunks.front().due, begins + nanoseconds(133'548) + milliseconds(4));
  EXPECT_GE(desk.outputs().chunks.back().due, begins + nanoseconds(4'407'051));
  EXPECT_LE(desk.outputs().chunks.back().due, begins + nanoseconds(4'407'052) + milliseconds(4));
}

TEST(BootText, ComesAtEachRestartAndOnlyToWhoeverHasThePortOpen) {
  DeviceBench desk(board(kSpeaks));
  desk.run(seconds(2));
  EXPECT_TRUE(desk.received().empty());
  desk.open();
  desk.run(seconds(2));
  const std::string garbage = before_hello(desk.received());
  desk.forget();
  desk.set_dtr(false);
  desk.run(milliseconds(100));
  desk.forget();
  desk.set_dtr(true);
  desk.run(seconds(2));
  EXPECT_NE(desk.received().find(garbage), std::string::npos);
  desk.close();
  desk.run(seconds(1));
  desk.forget();
  desk.open(false);  // DTR stays down: no restart, no text
  desk.run(milliseconds(300));
  EXPECT_EQ(desk.received().find(garbage), std::string::npos);
}

TEST(BootText, ChangesNothingOfWhatTheProgramSaysAfterIt) {
  DeviceBench speaks(board(kSpeaks));
  DeviceBench silent(board(""));
  for (DeviceBench* desk : {&speaks, &silent}) {
    desk->run(seconds(1));
    desk->open();
    desk->run(seconds(5));
  }
  EXPECT_EQ(speaks.received().substr(speaks.received().find("desk 1")), silent.received());
}

TEST(BootText, IsNotHeardOverNativeUsb) {
  DeviceBench gated(
      "panel = \"Gated\"\n[board]\npreset = \"native-usb-8bit\"\nboot = \"300 ms\"\n"
      "boot_text = \"rom\"\n[host]\ndtr = \"restarts the board\"\n"
      "[manners]\nhello = \"gated 1\"\n[[control]]\nname = \"knob\"\nkind = \"pot\"\n");
  gated.run(seconds(1));
  gated.open();
  gated.run(seconds(1));
  EXPECT_EQ(gated.received().substr(0, 8), "gated 1\n");
}

// The preset as it comes: what field experience says of such boards (from memory): some tens of
// bytes, many of them >= 0x80, before the first line.
TEST(BootText, OfThePresetIsTwentyToEightyBytesOfGarbageBeforeTheFirstLine) {
  DeviceBench desk(
      "panel = \"Desk\"\nboard = \"boot-text\"\n[manners]\nhello = \"desk 1\"\n"
      "[[control]]\nname = \"knob\"\nkind = \"pot\"\nnoise = \"0 V\"\n");
  desk.run(seconds(1));
  desk.open();
  desk.run(seconds(2));
  ASSERT_NE(desk.received().find("desk 1\n"), std::string::npos);
  const std::string garbage = before_hello(desk.received());
  EXPECT_GE(garbage.size(), 20U);
  EXPECT_LE(garbage.size(), 110U);
  EXPECT_GE(count_high(garbage), 20U);
  EXPECT_EQ(desk.lines().back(), "0");
  const Duration boot{desk.noted(NoteKind::kRestarted)};
  EXPECT_GE(boot, milliseconds(300));
  EXPECT_LE(boot, milliseconds(1'000));
}

const std::string kDisturbed = "boot_disturbed = \"9 s\"";
constexpr Duration kByteTime = nanoseconds(86'806);  // 10 bits at 115200 baud, rounded up

Duration silence_after(const DeviceBench& desk, Instant since) {
  return desk.outputs().chunks.front().due - since;
}

// Opened at 1 s + 1 us, sent to at 1.1 s + 1 us: 14 bytes, the last of which arrives 1.2153 ms
// later. The program begins 9 s after that; the hello is 7 bytes, and the host's beat is 4 ms.
TEST(DisturbedLoader, StaysSilentForItsTimeAfterTheLastByteThatReachedIt) {
  DeviceBench desk(board(kDisturbed));
  desk.run(seconds(1));
  desk.open();
  desk.run(milliseconds(100));
  desk.send("255\n255\n255\n25");
  desk.run(seconds(20));
  const Instant sent = at(milliseconds(1'100) + microseconds(1));
  const Duration silence = silence_after(desk, sent);
  const Duration least = nanoseconds(1'215'277) + seconds(9);
  EXPECT_GT(silence, least);
  EXPECT_LE(silence, least + milliseconds(5));
  EXPECT_EQ(desk.lines().front(), "desk 1");
  EXPECT_EQ(desk.shown("lamp"), 0);
  EXPECT_EQ(desk.noted(NoteKind::kLostInBoot), 14);
  ASSERT_EQ(desk.notes(NoteKind::kHeldInLoader), 1U);
  EXPECT_EQ(desk.noted(NoteKind::kHeldInLoader), seconds(9).ns);
}

// The note stands at the very arrival of the first byte.
TEST(DisturbedLoader, SaysSoWhenTheFirstByteArrives) {
  DeviceBench desk(board(kDisturbed));
  desk.run(seconds(1));
  desk.open();
  desk.run(milliseconds(100));
  desk.send("abcdefghijklmn");
  const Instant arrives = at(milliseconds(1'100) + microseconds(1)) + kByteTime;
  desk.run_until(Instant{arrives.ns - 1});
  EXPECT_EQ(desk.notes(NoteKind::kHeldInLoader), 0U);
  EXPECT_EQ(desk.device().bytes_in_loader(), 0);
  desk.run_until(arrives);
  ASSERT_EQ(desk.notes(NoteKind::kHeldInLoader), 1U);
  EXPECT_EQ(desk.outputs().notes.back().due, arrives);
  EXPECT_EQ(desk.device().bytes_in_loader(), 14);
  EXPECT_TRUE(desk.device().starting());
  desk.run(seconds(10));
  EXPECT_EQ(desk.device().bytes_in_loader(), 0);
  EXPECT_FALSE(desk.device().starting());
}

TEST(DisturbedLoader, NeverWakesWhileTheGameGoesOnSending) {
  DeviceBench desk(board(kDisturbed));
  desk.open();
  for (int second = 0; second < 600; ++second) {
    desk.run(milliseconds(400));
    desk.send("1\n");
    desk.run(milliseconds(600));
  }
  EXPECT_TRUE(desk.received().empty());
  EXPECT_EQ(desk.notes(NoteKind::kHeldInLoader), 1U);  // not one for each byte
  // The last byte arrived 0.1736 ms after 599.400001 s, and 9 s later the program begins.
  desk.run_until(at(seconds(608) + milliseconds(400)));
  EXPECT_TRUE(desk.received().empty());
  desk.run(milliseconds(6));
  EXPECT_EQ(desk.lines().front(), "desk 1");
}

TEST(DisturbedLoader, IsFreedByARestart) {
  DeviceBench desk(board(kDisturbed));
  desk.run(seconds(1));
  desk.open();
  desk.run(milliseconds(100));
  desk.send("255\n");
  desk.run(seconds(1));
  EXPECT_TRUE(desk.received().empty());
  desk.close();
  desk.run(milliseconds(10));
  desk.open();  // reset at 2.110001 s
  desk.run(seconds(2));
  ASSERT_FALSE(desk.received().empty());
  EXPECT_LE(silence_after(desk, at(microseconds(2'110'001))), milliseconds(505));
  desk.send("200\n");
  desk.run(milliseconds(100));
  EXPECT_EQ(desk.shown("lamp"), 200);
}

// The program begins 500 ms after 1.000001 s; a byte sent so that it arrives then is the program's.
TEST(DisturbedLoader, AByteThatArrivesAsTheProgramBeginsOrLaterDoesNothing) {
  for (const Duration after : {Duration{}, milliseconds(1)}) {
    DeviceBench desk(board(kDisturbed));
    desk.run(seconds(1));
    desk.open();
    desk.run(milliseconds(500) - kByteTime + after);
    desk.send("2");
    desk.run(seconds(1));
    EXPECT_EQ(desk.notes(NoteKind::kHeldInLoader), 0U);
    ASSERT_FALSE(desk.lines().empty());
    EXPECT_EQ(desk.lines().front(), "desk 1");
    EXPECT_EQ(desk.device().counts().receive.received, 1);
    EXPECT_EQ(desk.device().counts().receive.lost_in_boot, 0);
  }
}

TEST(DisturbedLoader, AByteThatArrivesAMicrosecondBeforeTheProgramBeginsHoldsIt) {
  DeviceBench desk(board(kDisturbed));
  desk.run(seconds(1));
  desk.open();
  desk.run(milliseconds(500) - kByteTime - microseconds(1));
  desk.send("2");
  desk.run(seconds(5));
  EXPECT_EQ(desk.notes(NoteKind::kHeldInLoader), 1U);
  EXPECT_TRUE(desk.received().empty());
}

TEST(DisturbedLoader, BytesDuringBootAreOnlyLostWhereNothingElseIsSaid) {
  for (const char* preset : {"bootloader-8bit", "bridge-16ms", "large-8bit", "boot-text"}) {
    DeviceBench desk("panel = \"D\"\nboard = \"" + std::string(preset) +
                     "\"\n[[control]]\nname = \"knob\"\nkind = \"pot\"\n");
    desk.open();
    desk.run(milliseconds(100));
    desk.send("255\n");
    desk.run(milliseconds(3'100));
    EXPECT_EQ(desk.notes(NoteKind::kHeldInLoader), 0U) << preset;
    EXPECT_GT(desk.device().counts().lines_printed, 0U) << preset;
  }
}

// A servo hears nothing from a board that is held in its loader.
TEST(DisturbedLoader, NeedlesStayWhereTheyAreUntilTheProgramRuns) {
  DeviceBench desk(board(kDisturbed) + "[[output]]\nname = \"gauge\"\nkind = \"gauge\"\n");
  desk.open();
  desk.run(seconds(2));
  desk.send("0,255\n");
  desk.run(seconds(2));
  const std::int64_t full = desk.device().powered().needle_mdeg(desk.now(), 1);
  EXPECT_GT(full, 0);
  desk.set_dtr(false);
  desk.run(milliseconds(1));
  desk.set_dtr(true);
  desk.run(milliseconds(100));
  desk.send("x");
  desk.run(seconds(9));
  EXPECT_EQ(desk.device().powered().needle_mdeg(desk.now(), 1), full);
  desk.run(seconds(1));
  EXPECT_LT(desk.device().powered().needle_mdeg(desk.now(), 1), full);
}

std::size_t groups_with(const BoardDescription& board, const std::string& pin, bool sinks) {
  std::size_t count = 0;
  for (const PortGroup& group : board.groups)
    if (group.sinks == sinks)
      count += static_cast<std::size_t>(std::count(group.pins.begin(), group.pins.end(), pin));
  return count;
}

// The ports of the ATmega2560 and the ATmega32U4 are shared out without rest (sheets 2549, p. 355
// and 356; 7766F, p. 379), and so are those of the ATmega328P.
TEST(Boards, OfEightBitsHaveEachPinInOneGroupEachWay) {
  for (const char* preset : {"bootloader-8bit", "native-usb-8bit", "large-8bit"}) {
    PanelDescription panel;
    ASSERT_TRUE(apply_preset(preset, panel));
    for (const std::string& pin : panel.board.digital_pins)
      for (const bool sinks : {true, false})
        EXPECT_EQ(groups_with(panel.board, pin, sinks), 1U) << preset << " " << pin << " " << sinks;
  }
}

// ATmega2560: 16 channels of the converter (ports F and K), 15 outputs of timers 0 to 5 on such
// boards; ATmega32U4: 12 channels, 7 outputs. (The chips' first pages; counts on boards from
// memory.)
TEST(Boards, HaveAsManyPinsOfEachSortAsTheirChips) {
  struct Row {
    const char* preset;
    std::size_t analogue;
    std::size_t digital;  // those that are analogue too included
    std::size_t dimming;
  };
  constexpr Row kRows[] = {{"bootloader-8bit", 6, 14 + 6, 6},
                           {"native-usb-8bit", 12, 14 + 6, 7},
                           {"large-8bit", 16, 54 + 16, 15},
                           {"boot-text", 1, 9, 8}};
  for (const Row& row : kRows) {
    PanelDescription panel;
    ASSERT_TRUE(apply_preset(row.preset, panel));
    const BoardDescription& board = panel.board;
    EXPECT_EQ(board.analogue_pins.size(), row.analogue) << row.preset;
    EXPECT_EQ(board.digital_pins.size(), row.digital) << row.preset;
    EXPECT_EQ(board.pwm_pins.size(), row.dimming) << row.preset;
    for (const std::string& pin : board.pwm_pins)
      EXPECT_EQ(std::count(board.digital_pins.begin(), board.digital_pins.end(), pin), 1)
          << row.preset << " " << pin;
  }
}

TEST(Boards, KeysThatCannotBeAreNamedWithWhatWouldBeRight) {
  const auto mistake = [](const std::string& tables) {
    const auto read =
        parse_panel("panel = \"D\"\n" + tables + "\n[[control]]\nname = \"knob\"\nkind = \"pot\"\n",
                    "d.panel.toml");
    return read.ok() ? std::string() : read.error().text;
  };
  const auto expect_said = [&](const std::string& tables, const std::string& part) {
    EXPECT_NE(mistake(tables).find(part), std::string::npos) << mistake(tables);
  };
  EXPECT_EQ(mistake("[board]\nboot_text = \"" + std::string(256, 'x') + "\""), "");
  expect_said("[board]\nboot_text = \"" + std::string(257, 'x') + "\"",
              "a text of at most 256 bytes");
  expect_said("[board]\nboot_text_baud = 10", "from 50 to 4000000");
  expect_said("[board]\nboot_disturbed = \"2 min\"", "board.boot_disturbed");
  expect_said("[manners]\nheap = \"plenty\"", "\"enough\"");
  expect_said("[manners]\nheap = { free = 0 }", "manners.heap.free");
  expect_said("[manners]\nheap = { free = 100, lines = 0 }", "manners.heap.lines");
}

TEST(Boards, OfEveryPresetAreReadBackAsTheyWereWritten) {
  for (const char* preset : {"native-usb-8bit", "large-8bit", "boot-text"}) {
    const auto panel = panel_of("panel = \"D\"\nboard = \"" + std::string(preset) +
                                "\"\n[manners]\nheap = { free = 900, lost = 2, lines = 7 }\n"
                                "[[control]]\nname = \"knob\"\nkind = \"pot\"\n");
    const auto again = panel_of(resolved_toml(panel->description));
    EXPECT_EQ(again->description, panel->description) << preset;
  }
}

}  // namespace
}  // namespace understudy
