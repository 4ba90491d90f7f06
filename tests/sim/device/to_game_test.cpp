// What reaches the game: when lines are sent, how the print ring and the host hold them up, what
// the wire makes of them.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <set>
#include <string>

#include "tests/sim/device/device_bench.h"

namespace understudy {
namespace {

std::string desk_with(std::string_view manners, std::string_view rest = "") {
  return R"(
panel = "Desk"
[board]
preset = "bootloader-8bit"
boot = "0 s"
boot_spread = "0 s"
[[control]]
name = "knob"
kind = "pot"
noise = "0 V"
[[control]]
name = "bell"
kind = "button"
sends = [0, 1]
bounce = "none"
[manners]
gather = "as it comes"
)" + std::string(manners) +
         "\n[host]\ndtr = \"nothing\"\n" + std::string(rest);
}

// Times between the ends of lines.
std::vector<Duration> gaps_of(const DeviceBench& bench) {
  std::vector<Duration> gaps;
  Instant last = kNever;
  for (std::size_t i = 0; i < bench.received().size(); ++i) {
    if (bench.received()[i] != '\n') continue;
    const Instant due = handed_over_at(bench.outputs(), i);
    if (last != kNever) gaps.push_back(due - last);
    last = due;
  }
  return gaps;
}

constexpr std::string_view kExactClock = R"(
[wire]
board_clock_error = "0 %"
)";

TEST(ToGame, ALoopOfTwentyMillisecondsGivesFiftyLinesASecond) {
  DeviceBench desk(desk_with("loop = \"20 ms\"", kExactClock));
  desk.open();
  desk.run(seconds(10));
  EXPECT_EQ(desk.lines().size(), 500U);
}

// 1 / 0.998 of 20 ms is 20.04 ms; the flush timer of 4 ms is the computer's and does not follow.
TEST(ToGame, ASlowResonatorStretchesTheLoopSoThatChunksCutLinesAtEveryPlace) {
  DeviceBench desk(desk_with("loop = \"20 ms\""));
  desk.open();
  desk.run(seconds(10));
  EXPECT_EQ(desk.lines().size(), 499U);
  std::set<std::size_t> sizes;
  for (const Chunk& chunk : desk.outputs().chunks) sizes.insert(chunk.size);
  EXPECT_GE(sizes.size(), 4U);
}

TEST(ToGame, EveryFiftyMillisecondsInALoopOfTwentyMeansEverySixty) {
  DeviceBench desk(desk_with("loop = \"20 ms\"", std::string(kExactClock) + R"(
[[line]]
to = "game"
text = "{knob},{bell}"
send = { every = "50 ms" }
)"));
  desk.open();
  desk.run(seconds(6));
  EXPECT_EQ(desk.lines().size(), 100U);
  for (const Duration gap : gaps_of(desk)) EXPECT_EQ(gap, milliseconds(60));
}

// However the board's clock error rounds both times, ten loops are ten loops.
TEST(ToGame, EveryTwoHundredMillisecondsIsEachTenthLoopOfTwenty) {
  DeviceBench desk(desk_with("loop = \"20 ms\"", R"(
[[line]]
to = "game"
text = "{knob},{bell}"
send = { every = "200 ms" }
)"));
  desk.open();
  desk.run(seconds(60));
  EXPECT_NEAR(static_cast<double>(desk.lines().size()), 60 / 0.2004, 1);
}

TEST(ToGame, OnChangeSendsAChangeOnceAndARefreshWhenNothingMoves) {
  DeviceBench desk(desk_with("loop = \"20 ms\"", R"(
[[line]]
to = "game"
text = "{knob},{bell}"
send = { on_change = 2, refresh = "1 s" }
)"));
  desk.open();
  desk.run(milliseconds(100));
  EXPECT_EQ(desk.lines(), std::vector<std::string>{"0,0"});
  desk.press("bell");
  desk.run(milliseconds(100));
  EXPECT_EQ(desk.lines().size(), 1U);  // one step is less than two
  desk.move("knob", 500'000);
  desk.run(milliseconds(100));
  EXPECT_EQ(desk.lines(), (std::vector<std::string>{"0,0", "512,1"}));
  desk.run(seconds(5));
  EXPECT_EQ(desk.lines().size(), 7U);
}

// A full line now and then must not swallow the changes that another line reports.
TEST(ToGame, FormatsSentOnChangeRememberEachForItself) {
  DeviceBench desk(desk_with("loop = \"20 ms\"", R"(
[[line]]
to = "game"
text = "all {knob},{bell}"
[[line]]
to = "game"
text = "bell {bell}"
send = { on_change = 1 }
)"));
  desk.open();
  desk.run(milliseconds(90));
  desk.press("bell");
  desk.run(milliseconds(100));
  const auto lines = desk.lines();
  EXPECT_EQ(std::count(lines.begin(), lines.end(), "bell 0"), 1);
  EXPECT_EQ(std::count(lines.begin(), lines.end(), "bell 1"), 1);
}

TEST(ToGame, ABoardThatIsAskedAnswersEachQuestionOnce) {
  DeviceBench desk(desk_with("loop = \"20 ms\"", R"(
[[line]]
to = "game"
text = "{knob},{bell}"
send = { asked = "?" }
)"));
  desk.open();
  desk.run(seconds(1));
  EXPECT_TRUE(desk.lines().empty());
  desk.send("?\n");
  desk.run(milliseconds(100));
  EXPECT_EQ(desk.lines().size(), 1U);
  desk.send("!\n");
  desk.run(milliseconds(100));
  EXPECT_EQ(desk.lines().size(), 1U);
}

TEST(ToGame, EachMakesALineForEachControl) {
  DeviceBench desk(desk_with("loop = \"20 ms\"", R"(
[[line]]
to = "game"
text = "{#name}={#value}"
each = ["knob", "bell"]
send = { on_change = 1 }
)"));
  desk.open();
  desk.run(milliseconds(90));
  desk.press("bell");
  desk.run(milliseconds(90));
  EXPECT_EQ(desk.lines(), (std::vector<std::string>{"knob=0", "bell=0", "bell=1"}));
}

TEST(ToGame, SequenceAndUptimeCountFromTheStart) {
  DeviceBench desk(desk_with("loop = \"20 ms\"", R"(
[[line]]
to = "game"
text = "{#sequence:3} {#uptime_ms:6}"
)"));
  desk.open();
  desk.run(milliseconds(55));
  EXPECT_EQ(desk.lines(), (std::vector<std::string>{"000 000000", "001 000020", "002 000040"}));
}

// 120 bytes at 9600 baud take 125 ms, whatever the loop would like.
TEST(ToGame, PrintingALongLineOnASlowWireHoldsTheLoop) {
  DeviceBench desk(desk_with("loop = \"20 ms\"",
                             "[wire]\nbaud = 9600\n[[line]]\nto = \"game\"\n"
                             "text = \"" +
                                 std::string(117, '.') + "{bell}\"\n"));
  desk.open();
  desk.run(seconds(10));
  const double bytes_per_second = 9'615.4 / 10.0;  // what the divider gives
  const double lines = 10.0 * bytes_per_second / 119.0;
  EXPECT_NEAR(static_cast<double>(desk.lines().size()), lines, 2);
}

TEST(ToGame, ASlowWireBringsTheBytesAtItsOwnPace) {
  DeviceBench desk(desk_with("loop = \"1 s\"", "flush = \"1 ms\"\n[wire]\nbaud = 300\n"));
  desk.open();
  desk.run(milliseconds(900));
  ASSERT_EQ(desk.received(), "0,0\n");
  // 10 bits at 300 baud (the divider's 300.1): 33.3 ms a byte.
  for (std::size_t i = 1; i < 4; ++i) {
    const Duration gap = handed_over_at(desk.outputs(), i) - handed_over_at(desk.outputs(), i - 1);
    EXPECT_NEAR(static_cast<double>(gap.ns), 33.3e6, 1.1e6);
  }
}

TEST(ToGame, AReadingIsSentAsItsRangeSaysReversedAndInWords) {
  DeviceBench desk(R"(
panel = "Ranges"
[board]
preset = "bootloader-8bit"
boot = "0 s"
boot_spread = "0 s"
[manners]
gather = "as it comes"
[host]
dtr = "nothing"
[[control]]
name = "percent"
kind = "pot"
sends = [0, 100]
noise = "0 V"
[[control]]
name = "turned"
kind = "pot"
sends = [1023, 0]
noise = "0 V"
[[control]]
name = "share"
kind = "pot"
sends = [-1, 1]
decimals = 2
noise = "0 V"
[[control]]
name = "key"
kind = "switch"
sends = ["off", "on"]
bounce = "none"
[[control]]
name = "raw"
kind = "button"
bounce = "none"
)");
  desk.open();
  desk.run(milliseconds(30));
  EXPECT_EQ(desk.lines().back(), "0,1023,-1.00,off,1");
  for (const auto* pot : {"percent", "turned", "share"}) desk.move(pot, 500'000);
  desk.press("key");
  desk.press("raw");
  desk.run(milliseconds(40));
  // Code 512: 512 * 100 / 1023 = 50, 1023 - 512 = 511, -1 + 512 * 2 / 1023 = 0.00
  EXPECT_EQ(desk.lines().back(), "50,511,0.00,on,0");
  for (const auto* pot : {"percent", "turned", "share"}) desk.move(pot, kFullTravel);
  desk.run(milliseconds(40));
  EXPECT_EQ(desk.lines().back(), "100,0,1.00,on,0");
}

TEST(ToGame, AFullHostBufferDropsTheNewestBytes) {
  DeviceBench desk(desk_with("loop = \"20 ms\"", "buffer = 100\n"));
  desk.open(true, false);
  desk.run(seconds(10));
  EXPECT_EQ(desk.received().size(), 100U);
  EXPECT_EQ(desk.noted(NoteKind::kHostBufferFull), desk.device().counts().host.dropped_full);
  EXPECT_NEAR(static_cast<double>(desk.noted(NoteKind::kHostBufferFull)), 10 * 50 * 4 - 100, 8);
  desk.take(100);
  desk.forget();
  desk.run(milliseconds(200));
  EXPECT_NEAR(static_cast<double>(desk.lines().size()), 10, 1);
}

TEST(ToGame, AHostThatHoldsTheBoardLosesNothingAndTheBoardGoesOnAfterTaken) {
  DeviceBench desk(desk_with("loop = \"20 ms\"",
                             "buffer = 100\nfull = \"holds the board\"\n"
                             "[[line]]\nto = \"game\"\ntext = \"{#sequence:4}\"\n"));
  desk.open(true, false);
  desk.run(seconds(10));
  const std::size_t held_at = desk.received().size();
  EXPECT_LE(held_at, 100U);
  EXPECT_EQ(desk.device().next_due(), kNever);
  for (int i = 0; i < 100; ++i) {
    desk.take(100);
    desk.run(seconds(1));
  }
  const auto lines = desk.lines();
  ASSERT_GT(lines.size(), 1'000U);
  for (std::size_t i = 0; i < lines.size(); ++i) {
    std::string number = std::to_string(i % 10'000);
    EXPECT_EQ(lines[i], std::string(4 - number.size(), '0') + number);
  }
  EXPECT_EQ(desk.device().counts().host.dropped_full, 0);
}

TEST(ToGame, ANativePortHandsOverOnItsMillisecondsOnly) {
  DeviceBench gated(R"(
panel = "Native"
board = "native-usb-32bit"
[manners]
loop = "7 ms"
gather = "as it comes"
[[control]]
name = "knob"
kind = "pot"
)");
  gated.open();
  gated.run(seconds(1));
  ASSERT_GT(gated.outputs().chunks.size(), 100U);
  for (const Chunk& chunk : gated.outputs().chunks) EXPECT_EQ(chunk.due.ns % 1'000'000, 0);
}

TEST(ToGame, ANativeBoardStopsItsLoopWhileTheGameDoesNotRead) {
  DeviceBench native(R"(
panel = "Native"
board = "native-usb-32bit"
[manners]
gather = "as it comes"
[host]
buffer = 64
[[control]]
name = "knob"
kind = "pot"
)");
  native.open(true, false);
  native.run(seconds(60));
  const std::uint64_t lines = native.device().counts().lines_printed;
  native.run(seconds(60));
  EXPECT_EQ(native.device().counts().lines_printed, lines);
  EXPECT_EQ(native.device().counts().host.dropped_full, 0);
  native.close();  // then nobody holds it any more
  native.run(seconds(1));
  EXPECT_GT(native.device().counts().lines_printed, lines + 40);
}

TEST(ToGame, WholeLinesIsOneChunkALine) {
  DeviceBench desk(desk_with("loop = \"20 ms\""), {.seed = 1, .name = "", .whole_lines = true});
  desk.open();
  desk.run(seconds(1));
  ASSERT_EQ(desk.outputs().chunks.size(), desk.lines().size());
  for (const Chunk& chunk : desk.outputs().chunks)
    EXPECT_EQ(desk.outputs().bytes_of(chunk).back(), '\n');
}

TEST(ToGame, ByteTrueTimingCutsLinesThatWholeLinesKeeps) {
  DeviceBench desk(desk_with("loop = \"7 ms\"", "[wire]\nbaud = 9600\n"));
  desk.open();
  desk.run(seconds(2));
  const auto& chunks = desk.outputs().chunks;
  const auto torn = std::count_if(chunks.begin(), chunks.end(), [&](const Chunk& chunk) {
    return desk.outputs().bytes_of(chunk).back() != '\n';
  });
  EXPECT_GT(torn, static_cast<std::ptrdiff_t>(chunks.size() / 4));
}

TEST(ToGame, ADividerTwoPercentOffIsStillRead) {
  DeviceBench desk(desk_with("loop = \"20 ms\""));  // 115200 at 16 MHz: 117647 baud
  desk.open();
  desk.set_baud(115'200);
  desk.run(seconds(1));
  EXPECT_TRUE(desk.device().baud_readable());
  EXPECT_EQ(desk.device().counts().frame_errors_to_game, 0);
  EXPECT_EQ(desk.lines().front(), "0,0");
}

TEST(ToGame, AGameAtAnotherBaudReadsGarbageUntilItSetsTheRightOne) {
  DeviceBench desk(desk_with("loop = \"20 ms\""));
  desk.open();
  desk.set_baud(9'600);
  desk.run(seconds(1));
  EXPECT_FALSE(desk.device().baud_readable());
  EXPECT_EQ(desk.received().find("0,0\n"), std::string::npos);
  desk.set_baud(115'200);
  desk.run(milliseconds(50));
  desk.forget();
  desk.run(seconds(1));
  EXPECT_EQ(desk.lines().size(), 50U);
  EXPECT_EQ(desk.lines().back(), "0,0");
}

// Even bytes that nobody can read take their time on the wire.
TEST(ToGame, AWrongBaudDoesNotMakeTheWireFaster) {
  const std::string slow = desk_with("loop = \"1 ms\"", "[wire]\nbaud = 9600\n");
  DeviceBench right(slow);
  DeviceBench wrong(slow);
  right.open();
  wrong.open();
  wrong.set_baud(300);
  right.run(seconds(10));
  wrong.run(seconds(10));
  const auto lines_right = static_cast<double>(right.device().counts().lines_printed);
  const auto lines_wrong = static_cast<double>(wrong.device().counts().lines_printed);
  EXPECT_NEAR(lines_wrong, lines_right, lines_right * 0.02);
}

TEST(ToGame, NoiseAtRestHasTheSpreadThatThePanelNames) {
  std::string noisy = desk_with("loop = \"1 ms\"", "[[line]]\nto = \"game\"\ntext = \"{knob}\"\n");
  noisy.replace(noisy.find("noise = \"0 V\""), 13, "noise = \"9.766 mV\"\nrest = \"50 %\"");
  DeviceBench desk(noisy);
  desk.open();
  desk.run(seconds(20));
  double sum = 0;
  double squares = 0;
  const auto lines = desk.lines();
  for (const std::string& line : lines) {
    const double code = std::stod(line);
    sum += code;
    squares += code * code;
  }
  const auto n = static_cast<double>(lines.size());
  ASSERT_GT(n, 19'000);
  const double mean = sum / n;
  // 2 steps of noise and the converter's own 1/12; the code truncates, so the mean is half a step
  // below 512.0 + 0.0 (four standard deviations allowed).
  const double sigma = std::sqrt(squares / n - mean * mean);
  EXPECT_NEAR(mean, 511.5, 4 * 2.02 / std::sqrt(n));
  EXPECT_NEAR(sigma, std::sqrt(4.0 + 1.0 / 12.0), 4 * 2.02 / std::sqrt(2 * n));
}

// A free loop of a few hundred microseconds sees the chatter that a loop of 20 ms steps over.
TEST(ToGame, AFreeLoopSeesTheContactBounce) {
  std::string bouncy = desk_with("loop = \"free\"", R"([wire]
baud = 1000000
[[line]]
to = "game"
text = "{bell}"
send = { on_change = 1 }
)");
  bouncy.replace(bouncy.find("bounce = \"none\""), 15,
                 "bounce = { mean = \"4 ms\", longest = \"6.2 ms\" }");
  DeviceBench desk(bouncy);
  desk.open();
  desk.run(milliseconds(100));
  for (int i = 0; i < 50; ++i) {
    desk.press("bell");
    desk.run(milliseconds(100));
    desk.let_go("bell");
    desk.run(milliseconds(100));
  }
  EXPECT_GT(desk.lines().size(), 1U + 100U + 100U);
  EXPECT_EQ(desk.lines().back(), "0");
}

}  // namespace
}  // namespace understudy
