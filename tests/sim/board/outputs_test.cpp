// What each output makes of its numbers. Published values are in tests/reference/.
#include <gtest/gtest.h>

#include <algorithm>
#include <limits>
#include <vector>

#include "sim/base/fingerprint.h"
#include "sim/base/random.h"
#include "sim/board/buzzer.h"
#include "sim/board/digits.h"
#include "sim/board/load.h"
#include "sim/board/needle.h"
#include "sim/board/pwm.h"

namespace understudy {
namespace {

OutputDescription output_of(OutputKind kind, std::int64_t low, std::int64_t high) {
  OutputDescription output;
  output.kind = kind;
  output.sends.low = low;
  output.sends.high = high;
  return output;
}

constexpr Instant kStart{1'000'000'000};

TEST(Needle, ComesToRestExactlyAtItsGoal) {
  const GaugePart part;
  for (const std::int64_t goal : {1, 40, 1'000, 90'000, 180'000}) {
    Needle needle(0);
    needle.set(kStart, goal, part);
    EXPECT_TRUE(needle.moving(kStart));
    EXPECT_EQ(needle.angle_mdeg(kStart), 0);
    EXPECT_EQ(needle.angle_mdeg(needle.ends()), goal);
    EXPECT_FALSE(needle.moving(needle.ends()));
    EXPECT_NEAR(static_cast<double>(needle.angle_mdeg(needle.ends() - Duration{1})),
                static_cast<double>(goal), 2);
  }
}

TEST(Needle, PassesItsGoalByItsOvershootAndThenSwingsBackLess) {
  GaugePart part;
  part.overshoot_ppm = 100'000;
  for (const bool downwards : {false, true}) {
    Needle needle(downwards ? 180'000 : 0);
    needle.set(kStart, downwards ? 0 : 180'000, part);
    std::int64_t farthest = 0;
    std::int64_t back = 0;
    for (Instant t = kStart; t < needle.ends(); t = t + milliseconds(1)) {
      const std::int64_t angle = needle.angle_mdeg(t);
      const std::int64_t beyond = downwards ? -angle : angle - 180'000;
      if (beyond > farthest) back = 0;
      farthest = std::max(farthest, beyond);
      back = std::min(back, beyond);
    }
    EXPECT_NEAR(static_cast<double>(farthest), 18'000, 60);
    // e^(-pi / sqrt 3) = 0.163 from one side to the other, at a damping ratio of 1/2.
    EXPECT_NEAR(static_cast<double>(-back), 0.163 * 18'000, 60);
  }
}

TEST(Needle, NeverMovesFasterThanItsSlew) {
  GaugePart part;
  part.overshoot_ppm = 200'000;
  Needle needle(0);
  needle.set(kStart, 120'000, part);
  std::int64_t last = 0;
  for (Instant t = kStart; t < needle.ends(); t = t + milliseconds(1)) {
    const std::int64_t angle = needle.angle_mdeg(t);
    // 500 mdeg in a millisecond, and 1 % for the straight lines of the table.
    ASSERT_LE(std::abs(angle - last), 506) << t.ns;
    last = angle;
  }
}

TEST(Needle, WithoutOvershootItStopsWhereItArrives) {
  GaugePart part;
  part.overshoot_ppm = 0;
  Needle needle(0);
  needle.set(kStart, 60'000, part);
  EXPECT_EQ(needle.ends(), kStart + milliseconds(120));
  EXPECT_EQ(needle.angle_mdeg(kStart + milliseconds(60)), 30'000);
}

TEST(Needle, TheGoalThatItHasAlreadyChangesNothing) {
  const GaugePart part;
  Needle once(0);
  once.set(kStart, 90'000, part);
  Needle often = once;
  for (int i = 1; i < 30; ++i) often.set(kStart + milliseconds(16 * i), 90'000, part);
  for (int i = 1; i < 600; ++i)
    ASSERT_EQ(once.angle_mdeg(kStart + milliseconds(i)),
              often.angle_mdeg(kStart + milliseconds(i)));
}

TEST(Needle, ANewGoalIsTakenFromWhereverItIsWithoutAJump) {
  const GaugePart part;
  Stream chance(7, "goals");
  Needle needle(0);
  Instant t = kStart;
  std::int64_t last = 0;
  for (int i = 0; i < 20'000; ++i) {
    if (i % 37 == 0) {
      const std::int64_t before = needle.angle_mdeg(t);
      needle.set(t, static_cast<std::int64_t>(chance.bits() % 180'001), part);
      ASSERT_EQ(needle.angle_mdeg(t), before);
    }
    ASSERT_LE(std::abs(needle.angle_mdeg(t) - last), 506);
    last = needle.angle_mdeg(t);
    t = t + milliseconds(1);
  }
}

TEST(Needle, StaysWhereItIsOnceNobodyTellsItWhereToGo) {
  const GaugePart part;
  Needle needle(0);
  needle.set(kStart, 90'000, part);
  const Instant restart = kStart + milliseconds(50);
  needle.let_go(restart);
  EXPECT_FALSE(needle.moving(restart));
  EXPECT_EQ(needle.angle_mdeg(restart + seconds(5)), 25'000);
  needle.set(restart + seconds(6), 90'000, part);  // the same goal as before moves it again
  EXPECT_TRUE(needle.moving(restart + seconds(6)));
}

TEST(Needle, TheGoalIsEvenOverTheRangeAndHeldToItsEnds) {
  OutputDescription gauge = output_of(OutputKind::kGauge, 0, 255);
  EXPECT_EQ(gauge_goal_mdeg(0, gauge), 0);
  EXPECT_EQ(gauge_goal_mdeg(51, gauge), 36'000);
  EXPECT_EQ(gauge_goal_mdeg(255, gauge), 180'000);
  EXPECT_EQ(gauge_goal_mdeg(-5, gauge), 0);
  EXPECT_EQ(gauge_goal_mdeg(std::numeric_limits<std::int64_t>::max(), gauge), 180'000);
  gauge.sends.low = 100;  // reversed
  gauge.sends.high = -100;
  EXPECT_EQ(gauge_goal_mdeg(100, gauge), 0);
  EXPECT_EQ(gauge_goal_mdeg(50, gauge), 45'000);
  EXPECT_EQ(gauge_goal_mdeg(-100, gauge), 180'000);
}

// "  -3." as text: a character for each figure and dash, '.' for a point, '_' for dark, '?' else.
std::string read_off(const DigitRow& row) {
  std::string text;
  for (int i = 0; i < row.count; ++i) {
    const std::uint8_t all = row.segments[static_cast<std::size_t>(i)];
    const auto figure = static_cast<std::uint8_t>(all & ~kSegmentPoint);
    char character = figure == 0 ? '_' : figure == kSegmentDash ? '-' : '?';
    for (char c = '0'; c <= '9'; ++c)
      if (segments_of(c) == figure) character = c;
    text += character;
    if ((all & kSegmentPoint) != 0) text += '.';
  }
  return text;
}

TEST(Digits, NumbersStandToTheRightWithDarkDigitsBefore) {
  const OutputDescription digits = output_of(OutputKind::kDigits, 0, 9'999);
  EXPECT_EQ(read_off(digits_shown(0, digits)), "___0");
  EXPECT_EQ(read_off(digits_shown(7, digits)), "___7");
  EXPECT_EQ(read_off(digits_shown(1'203, digits)), "1203");
}

TEST(Digits, AMinusStandsRightBeforeTheFirstDigit) {
  const OutputDescription digits = output_of(OutputKind::kDigits, -999, 9'999);
  EXPECT_EQ(read_off(digits_shown(-7, digits)), "__-7");
  EXPECT_EQ(read_off(digits_shown(-999, digits)), "-999");
}

TEST(Digits, WhatHasNoRoomIsARowOfDashes) {
  OutputDescription digits = output_of(OutputKind::kDigits, 0, 9'999);
  EXPECT_EQ(read_off(digits_shown(10'000, digits)), "----");
  EXPECT_EQ(read_off(digits_shown(-1'000, digits)), "----");
  EXPECT_EQ(read_off(digits_shown(std::numeric_limits<std::int64_t>::min(), digits)), "----");
  digits.digits.count = 1;
  EXPECT_EQ(read_off(digits_shown(-1, digits)), "-");
  EXPECT_EQ(read_off(digits_shown(9, digits)), "9");
}

TEST(Digits, ThePointStandsBehindTheUnitsAndZerosFillUpToIt) {
  OutputDescription digits = output_of(OutputKind::kDigits, 0, 9'999);
  digits.sends.decimals = 2;
  EXPECT_EQ(read_off(digits_shown(5, digits)), "_0.05");
  EXPECT_EQ(read_off(digits_shown(-53, digits)), "-0.53");
  EXPECT_EQ(read_off(digits_shown(9'999, digits)), "99.99");
  digits.digits.count = 2;
  EXPECT_EQ(read_off(digits_shown(5, digits)), "--");
}

TEST(Digits, WordsStandToTheLeftAndLoseWhatIsTooLong) {
  OutputDescription digits = output_of(OutputKind::kDigits, 0, 2);
  digits.sends.words = {"off", "ON", "HELLO"};
  const auto row = [&](std::int64_t number) { return digits_shown(number, digits).segments; };
  EXPECT_EQ(row(0), (std::array<std::uint8_t, 8>{0x5c, 0x71, 0x71, 0}));
  EXPECT_EQ(row(1), (std::array<std::uint8_t, 8>{0x3f, 0x54, 0, 0}));
  EXPECT_EQ(row(2), (std::array<std::uint8_t, 8>{0x76, 0x79, 0x38, 0x38}));
  EXPECT_EQ(read_off(digits_shown(3, digits)), "----");
}

TEST(Digits, NoTwoFiguresLookAlike) {
  std::vector<int> seen;
  for (char c = '0'; c <= '9'; ++c) seen.push_back(segments_of(c));
  std::sort(seen.begin(), seen.end());
  EXPECT_EQ(std::adjacent_find(seen.begin(), seen.end()), seen.end());
}

TEST(Buzzer, WithAnOscillatorOfItsOwnSoundsAtItsResonanceOrNotAtAll) {
  OutputDescription buzzer = output_of(OutputKind::kBuzzer, 0, 1);
  EXPECT_EQ(sound_of(0, buzzer), Sound{});
  EXPECT_EQ(sound_of(1, buzzer), (Sound{2'700'000, 1'000'000}));
  EXPECT_EQ(sound_of(77, buzzer), (Sound{2'700'000, 1'000'000}));
  EXPECT_EQ(sound_of(-1, buzzer), Sound{});
  std::swap(buzzer.sends.low, buzzer.sends.high);  // 0 sounds
  EXPECT_EQ(sound_of(0, buzzer).level_ppm, 1'000'000);
  EXPECT_EQ(sound_of(1, buzzer), Sound{});
}

TEST(Buzzer, APitchedOneIsLoudestAtItsResonanceAndSilentFromZeroDown) {
  OutputDescription buzzer = output_of(OutputKind::kBuzzer, 0, 5'000);
  buzzer.buzzer.pitched = true;
  EXPECT_EQ(sound_of(0, buzzer), Sound{});
  EXPECT_EQ(sound_of(-440, buzzer), Sound{});
  EXPECT_EQ(sound_of(440, buzzer).frequency_mhz, 440'000);
  const std::int64_t at_resonance = sound_of(2'700, buzzer).level_ppm;
  EXPECT_EQ(at_resonance, 1'000'000);
  for (const std::int64_t other : {200, 440, 1'000, 2'500, 2'900, 5'000})
    EXPECT_LT(sound_of(other, buzzer).level_ppm, 700'000) << other;
  buzzer.sends.decimals = 1;
  EXPECT_EQ(sound_of(4'401, buzzer).frequency_mhz, 440'100);
  EXPECT_EQ(sound_of(std::numeric_limits<std::int64_t>::max(), buzzer).frequency_mhz,
            1'000'000'000);
}

// A square wave has a third of its height in its third harmonic.
TEST(Buzzer, AThirdOfItsResonanceSoundsAThirdAsLoudByItsHarmonic) {
  EXPECT_NEAR(static_cast<double>(level_at_ppm(900'000, 2'700)), 333'333, 20'000);
  EXPECT_LT(level_at_ppm(1'300'000, 2'700), 120'000);  // no harmonic meets it
}

TEST(Rgb, IsThreeLampsWhoseLightFollowsTimeAndCurrent) {
  BoardDescription board;
  board.phase_correct_pwm = true;
  OutputDescription rgb = output_of(OutputKind::kRgb, 0, 255);
  // (5 - 2) / 260 = 11.538 mA, (5 - 3.2) / 260 = 6.923 mA.
  EXPECT_EQ(full_ua(rgb, 0, board), 11'538);
  EXPECT_EQ(full_ua(rgb, 1, board), 6'923);
  const RgbLight white = rgb_light({255, 255, 255}, rgb, board);
  EXPECT_DOUBLE_EQ(white.red, 1.0);
  EXPECT_NEAR(white.green, 0.6, 1e-4);
  EXPECT_NEAR(white.blue, 0.6, 1e-4);
  const RgbLight half = rgb_light({51, 0, 255}, rgb, board);
  EXPECT_NEAR(half.red, 0.2, 1e-12);
  EXPECT_EQ(half.green, 0.0);
  rgb.rgb.forward_uv = {6'000'000, 6'000'000, 6'000'000};
  EXPECT_EQ(rgb_light({255, 255, 255}, rgb, board).red, 0.0);
}

TEST(Load, EachKindDrawsByItsNumbers) {
  BoardDescription board;
  board.phase_correct_pwm = true;
  const auto draws = [&](const OutputDescription& of, std::vector<std::int64_t> numbers,
                         bool moving = false) { return output_ua(of, numbers, moving, board); };
  const OutputDescription lamp = output_of(OutputKind::kLamp, 0, 255);
  EXPECT_EQ(draws(lamp, {0}), 0);
  EXPECT_EQ(draws(lamp, {255}), 11'538);
  EXPECT_EQ(draws(lamp, {51}), 2'307);
  const OutputDescription rgb = output_of(OutputKind::kRgb, 0, 255);
  EXPECT_EQ(draws(rgb, {255, 255, 255}), 11'538 + 2 * 6'923);
  EXPECT_EQ(draws(rgb, {0, 255, 0}), 6'923);
  const OutputDescription gauge = output_of(OutputKind::kGauge, 0, 255);
  EXPECT_EQ(draws(gauge, {77}), 8'000);
  EXPECT_EQ(draws(gauge, {77}, true), 150'000);
  const OutputDescription buzzer = output_of(OutputKind::kBuzzer, 0, 1);
  EXPECT_EQ(draws(buzzer, {0}), 0);
  EXPECT_EQ(draws(buzzer, {1}), 30'000);
  const OutputDescription digits = output_of(OutputKind::kDigits, 0, 9'999);
  EXPECT_EQ(draws(digits, {8'888}), 28 * 5'000);
  EXPECT_EQ(draws(digits, {1}), 2 * 5'000);
}

TEST(Load, ALampToTheSupplyHasTheOtherPinResistance) {
  OutputDescription lamp = output_of(OutputKind::kLamp, 0, 1);
  lamp.active_low = true;
  EXPECT_EQ(full_ua(lamp, 0, BoardDescription{}), 3'000'000'000 / 265'000);
}

TEST(Load, TheWholeIsTheSumWhateverTheOrder) {
  Load load;
  load.set(3, 10'000);
  load.set(63, 5'000);
  load.set(3, 2'000);
  EXPECT_EQ(load.outputs_ua(), 7'000);
  EXPECT_EQ(load.of_output_ua(3), 2'000);
  load.clear();
  EXPECT_EQ(load.outputs_ua(), 0);
}

}  // namespace
}  // namespace understudy
