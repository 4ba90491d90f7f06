// Each accumulator alone, fed with made signals: noise of known size, slopes, presses and chatter
// at known times, lines at known intervals.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <limits>
#include <string>
#include <vector>

#include "sim/base/random.h"
#include "sim/measure/contact_statistics.h"
#include "sim/measure/control_statistics.h"
#include "sim/measure/direction_statistics.h"
#include "sim/measure/jump_watch.h"
#include "sim/measure/quantiles.h"
#include "sim/measure/rest_noise.h"
#include "sim/panel/panel_file.h"

namespace understudy {
namespace {

constexpr Duration kLine = milliseconds(10);

// A level in LSB with Gaussian noise, as an ideal converter rounds it.
std::int64_t noisy(double level, double sigma, Stream& chance) {
  const double deviate = static_cast<double>(chance.gaussian_micro()) / 1e6;
  return std::llround(level + sigma * deviate);
}

RestFigures noise_of(double sigma, double slope_per_minute, int numbers) {
  Stream chance(7, "test.noise");
  RestNoise rest;
  for (int i = 0; i < numbers; ++i) {
    const double minutes = i * 10e-3 / 60;
    rest.add({i * kLine.ns}, noisy(512.3 + slope_per_minute * minutes, sigma, chance));
  }
  return rest.figures(1'024);
}

// IEEE 1241: N - log2(total RMS / (Q / sqrt 12)); with Gaussian noise of s LSB the total is
// sqrt(s^2 + 1/12), so 0.5 LSB on ten bits leaves 10 - 0.5 log2(1 + 12 * 0.25) = 9 exactly.
TEST(RestNoise, HalfAnLsbOnTenBitsLeavesNine) {
  const RestFigures figures = noise_of(0.5, 0, 100'000);
  // Relative deviation of a variance of n numbers: sqrt(2 / n) = 0.45 %, so 0.0033 bits.
  EXPECT_NEAR(*figures.effective_bits, 9.0, 0.013);
  EXPECT_NEAR(*figures.rms, std::sqrt(0.25 + 1.0 / 12), 0.006);
  EXPECT_GT(figures.numbers, 95'000);
}

// The same closed form for other noise: 8.150 and 7.193.
TEST(RestNoise, EffectiveBitsFollowTheClosedForm) {
  for (const double sigma : {1.0, 2.0}) {
    const double expected = 10 - 0.5 * std::log2(1 + 12 * sigma * sigma);
    EXPECT_NEAR(*noise_of(sigma, 0, 100'000).effective_bits, expected, 0.015) << sigma;
  }
}

TEST(RestNoise, WhatNeverTremblesHasAllItsBitsAndNoMore) {
  RestNoise rest;
  for (int i = 0; i < 1'000; ++i) rest.add({i * kLine.ns}, 700);
  const RestFigures figures = rest.figures(1'024);
  EXPECT_EQ(*figures.rms, 0);
  EXPECT_EQ(*figures.peak_to_peak, 0);
  EXPECT_DOUBLE_EQ(*figures.effective_bits, 10.0);
}

TEST(RestNoise, ASlopeIsFoundAsDriftAndAddsNothingToTheNoise) {
  const RestFigures figures = noise_of(0.5, 6, 60'000);  // ten minutes, 6 LSB a minute
  EXPECT_NEAR(*figures.drift_per_minute, 6, 0.05);
  // A slope's standard error over n even moments of a length: noise / (length * sqrt(n / 12)).
  const double expected = std::sqrt(0.25 + 1.0 / 12) / (10 * std::sqrt(60'000 / 12.0));
  EXPECT_NEAR(*figures.drift_error, expected, expected * 0.05);
  EXPECT_NEAR(*figures.effective_bits, 9.0, 0.02);
}

TEST(RestNoise, AMovementBetweenTwoRestsIsNoNoise) {
  Stream chance(3, "test.moved");
  RestNoise rest;
  for (int i = 0; i < 20'000; ++i) {
    const int phase = i % 1'000;  // 2 s here, half a second's way, 2 s there and so on
    const double level = phase < 400 ? 100 : phase < 500 ? 100 + (phase - 400) * 8.0 : 900;
    rest.add({i * kLine.ns}, noisy(level, 0.5, chance));
  }
  const RestFigures figures = rest.figures(1'024);
  EXPECT_NEAR(*figures.effective_bits, 9.0, 0.03);
  EXPECT_LE(*figures.peak_to_peak, 5);  // 0.5 LSB: beyond +-2.5 lies one in 1.7 million
  EXPECT_GT(figures.length, seconds(120));
}

TEST(Quantiles, AreExactWhileFewAndWithinTheirErrorWhenMany) {
  Stream chance(5, "test.quantiles");
  Quantiles quantiles;
  std::vector<std::int64_t> all;
  for (int i = 0; i < 100'000; ++i) {
    const std::int64_t value = 20'000'000 + chance.exponential_micro() * 10;
    all.push_back(value);
    quantiles.add(value);
    if (i != 4'000) continue;
    std::vector<std::int64_t> sorted = all;
    std::sort(sorted.begin(), sorted.end());
    EXPECT_TRUE(quantiles.exact());
    // Nearest rank: the ceil(0.95 * 4001) = 3801st of 4001.
    EXPECT_EQ(*quantiles.at(0.95), sorted[3'800]);
  }
  std::sort(all.begin(), all.end());
  EXPECT_FALSE(quantiles.exact());
  for (const double share : {0.0, 0.1, 0.5, 0.95, 0.99, 1.0}) {
    const double rank = std::max(std::ceil(share * 1e5), 1.0);
    const auto exact = static_cast<double>(all[static_cast<std::size_t>(rank) - 1]);
    EXPECT_NEAR(static_cast<double>(*quantiles.at(share)), exact, exact * kQuantileErrorMost);
  }
  EXPECT_EQ(*quantiles.most(), all.back());
}

TEST(Quantiles, HoldTheLargestNumbersThereAre) {
  Quantiles quantiles;
  constexpr std::int64_t kMost = std::numeric_limits<std::int64_t>::max();
  for (int i = 0; i < 5'000; ++i) quantiles.add(kMost - i);
  EXPECT_EQ(*quantiles.most(), kMost);
  EXPECT_NEAR(static_cast<double>(*quantiles.median()), static_cast<double>(kMost),
              static_cast<double>(kMost) * kQuantileErrorMost);
}

TEST(JumpWatch, FindsEachJumpAtItsPlaceAndNoMovement) {
  JumpWatch jumps(1'023);
  std::vector<std::int64_t> starts = {200, 450, 700};
  for (int i = 0; i < 1'000; ++i) {
    // A sweep from end to end in 10 s; three jumps to zero of two lines each.
    std::int64_t number = i * 1'023 / 999;
    for (const std::int64_t start : starts)
      if (i == start || i == start + 1) number = 0;
    jumps.add({i * kLine.ns}, number);
  }
  ASSERT_EQ(jumps.count(), 3);
  for (std::size_t i = 0; i < 3; ++i) {
    EXPECT_EQ(jumps.kept()[i].at.ns, starts[i] * kLine.ns);
    EXPECT_EQ(jumps.kept()[i].length, kLine * 2);
    EXPECT_EQ(jumps.kept()[i].from, (starts[i] - 1) * 1'023 / 999);
    EXPECT_EQ(jumps.kept()[i].to, 0);
  }
}

TEST(JumpWatch, AHandThatGoesThereAtOnceAndStaysIsNoJump) {
  JumpWatch jumps(1'023);
  for (int i = 0; i < 100; ++i) jumps.add({i * kLine.ns}, i < 50 ? 10 : 900);
  EXPECT_EQ(jumps.count(), 0);
}

TEST(Contact, PressesAndBounceHaveTheLengthsThatWereMade) {
  ContactStatistics contact;
  const auto at = [&](double ms, bool down) {
    contact.add({static_cast<std::int64_t>(ms * 1e6)}, down);
  };
  at(0, false);
  for (int press = 0; press < 9; ++press) {
    const double t = 1'000.0 * (press + 1);
    // Chatter of 3 ms at the beginning, none at the end; 100, 110, ... 180 ms long.
    at(t, true);
    at(t + 1, false);
    at(t + 3, true);
    at(t + 100 + 10 * press, false);
  }
  at(20'000, false);
  const ContactFigures figures = contact.figures({seconds(20).ns});
  EXPECT_EQ(figures.presses, 9);
  EXPECT_EQ(*figures.press_least, milliseconds(100));
  EXPECT_EQ(*figures.press_median, milliseconds(140));
  EXPECT_EQ(*figures.press_most, milliseconds(180));
  EXPECT_EQ(figures.bounces, 9);
  EXPECT_EQ(*figures.bounce_most, milliseconds(3));
  EXPECT_EQ(figures.changes_most, 3);
  EXPECT_FALSE(figures.down_at_end);
}

// 80 ms between two presses are two presses still.
TEST(Contact, TwoQuickPressesAreTwoAndATapBetweenTwoLinesIsOne) {
  ContactStatistics contact;
  const auto at = [&](int ms, bool down) { contact.add({milliseconds(ms).ns}, down); };
  at(0, false);
  at(100, true);
  at(140, false);
  at(180, true);
  at(220, false);
  at(500, true);
  at(505, false);
  const ContactFigures figures = contact.figures({seconds(1).ns});
  EXPECT_EQ(figures.presses, 3);
  EXPECT_EQ(*figures.press_least, milliseconds(5));
  EXPECT_EQ(figures.bounces, 0);
}

TEST(Control, IsStuckWhereHandsMoveItAndItDoesNotFollow) {
  ControlStatistics pot({.way = FieldWay::kSlides, .low = 0, .high = 1'023});
  std::int64_t level = 100;
  for (int i = 0; i < 4'000; ++i) {
    const Instant t{i * kLine.ns};
    if (i % 500 == 100) {
      pot.hand_moved(t, 500'000, milliseconds(200));
      if (i < 2'000) level = level == 100 ? 600 : 100;  // the wire comes off at 20 s
    }
    pot.add(t, level + i % 2);
  }
  const ControlFigures figures = pot.figures({seconds(40).ns});
  EXPECT_EQ(figures.verdict, ControlVerdict::kStuck);
  EXPECT_EQ(figures.hand_moves, 8);
  EXPECT_EQ(figures.unfollowed, 4);
  EXPECT_EQ(*figures.stuck_since, Instant{seconds(21).ns});
}

TEST(Control, TremblingIsNotUse) {
  Stream chance(11, "test.unused");
  ControlStatistics pot({.way = FieldWay::kSlides, .low = 0, .high = 1'023});
  for (int i = 0; i < 4'000; ++i) pot.add({i * kLine.ns}, noisy(300, 2, chance));
  EXPECT_EQ(pot.figures({seconds(40).ns}).verdict, ControlVerdict::kNeverUsed);
}

TEST(Control, AContactThatIsDownFromFirstToLastIsHeld) {
  ControlStatistics bell({.way = FieldWay::kContact, .low = 1, .high = 0});
  for (int i = 0; i < 100; ++i) bell.add({i * kLine.ns}, 0);
  EXPECT_EQ(bell.figures({seconds(1).ns}).verdict, ControlVerdict::kHeld);
}

std::shared_ptr<const Panel> panel_with(const std::string& lines) {
  const std::string text = R"(panel = "T"
[[control]]
name = "power"
kind = "pot"
sends = [0, 1023]
[[control]]
name = "bell"
kind = "button"
sends = [0, 1]
[[output]]
name = "lamp"
kind = "lamp"
[wire]
baud = 9600
)" + lines;
  auto panel = parse_panel(text, "test");
  EXPECT_TRUE(panel.ok()) << (panel.ok() ? "" : panel.error().text);
  return panel.value();
}

TEST(Direction, RateGapsAndShareOfTheWireAreThoseThatWereScheduled) {
  DirectionStatistics direction({.direction = Direction::kToGame, .panel = panel_with("")});
  // 50 lines/s for 20 s of 6 bytes each; one silence of 300 ms in the tenth second.
  for (int i = 0; i < 1'000; ++i) {
    if (i >= 500 && i < 514) continue;
    direction.add({milliseconds(20).ns * i}, i % 2 == 0 ? "512,0\n" : "513,0\n");
  }
  const DirectionFigures figures = direction.figures();
  EXPECT_EQ(figures.lines, 986);
  EXPECT_EQ(figures.read, 986);
  EXPECT_EQ(*figures.rate_median, 50);
  EXPECT_EQ(*figures.rate_most, 50);
  EXPECT_EQ(*figures.rate_least, 36);
  EXPECT_EQ(*figures.gap_median, milliseconds(20));
  EXPECT_EQ(*figures.gap_longest, milliseconds(300));
  EXPECT_EQ(*figures.gap_longest_at, Instant{milliseconds(499 * 20).ns});
  EXPECT_EQ(figures.gaps_over_bound, 1);
  // 8N1: ten bits a byte. 5916 bytes in 19.98 s of 9600 baud; the busiest second has 300 bytes.
  EXPECT_NEAR(*figures.wire_share, 986 * 6 * 10 / (19.98 * 9600), 1e-9);
  EXPECT_NEAR(*figures.wire_share_busiest, 300 * 10 / 9600.0, 1e-9);
}

TEST(Direction, TellsTornMalformedUnknownAndSpoiltLinesApart) {
  DirectionStatistics direction({.direction = Direction::kToGame, .panel = panel_with(R"(
[[line]]
to = "game"
text = "S{#sequence:3},{power},{bell}"
check = { kind = "xor", as = "*{HEX}" }
)")});
  // NMEA 0183: exclusive or of all bytes of the text.
  const auto line = [](const std::string& text) {
    unsigned sum = 0;
    for (const char c : text) sum ^= static_cast<unsigned char>(c);
    char check[8];
    std::snprintf(check, sizeof check, "*%02X\n", sum);
    return text + check;
  };
  std::string all;
  all += ",0*41\n";  // joined in the middle of a line: torn
  all += line("S000,512,0");
  all += line("S001,512,0");   // says nothing new
  all += line("S001,512,0");   // a duplicate
  all += line("S004,513,1");   // two are missing
  all += "S005,513,1*00\n";    // spoilt
  all += "S006,51\n";          // torn
  all += "Booting...\n";       // unknown
  all += line("S007,9999,1");  // malformed: beyond the range
  direction.add({0}, all);
  const DirectionFigures figures = direction.figures();
  EXPECT_EQ(figures.lines, 9);
  EXPECT_EQ(figures.read, 4);
  EXPECT_EQ(figures.torn, 2);
  EXPECT_EQ(figures.check_errors, 1);
  EXPECT_EQ(figures.unknown, 1);
  EXPECT_EQ(figures.malformed, 1);
  EXPECT_EQ(*figures.duplicates, 1);
  EXPECT_EQ(*figures.missing, 2);
  EXPECT_EQ(figures.redundant, 2);
}

TEST(Direction, WithoutAPanelRawLinesStillTellRateGapsAndRepetition) {
  DirectionStatistics direction({.direction = Direction::kToGame, .panel = nullptr});
  for (int i = 0; i < 300; ++i) direction.add({milliseconds(10).ns * i}, "a,b\r\n");
  const DirectionFigures figures = direction.figures();
  EXPECT_EQ(figures.lines, 300);
  EXPECT_FALSE(figures.told);
  EXPECT_EQ(figures.redundant, 299);
  EXPECT_EQ(*figures.rate_median, 100);
  EXPECT_FALSE(figures.wire_share.has_value());
}

TEST(Direction, AnOpeningPortTearsTheLineThatWasOnItsWayAndIsNoGap) {
  DirectionStatistics direction({.direction = Direction::kToGame, .panel = panel_with("")});
  direction.add({0}, "512,0\n51");
  direction.port_opened();
  direction.add({seconds(5).ns}, "512,0\n");
  const DirectionFigures figures = direction.figures();
  EXPECT_EQ(figures.torn, 1);
  EXPECT_EQ(figures.gaps_over_bound, 0);
}

}  // namespace
}  // namespace understudy
