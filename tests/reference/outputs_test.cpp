// Needles, digits and buzzers against what the trade publishes and what algebra says.
#include <gtest/gtest.h>

#include <array>
#include <cmath>

#include "sim/board/buzzer.h"
#include "sim/board/digits.h"
#include "sim/board/needle.h"
#include "sim/board/pwm.h"

namespace understudy {
namespace {

// 0.12 s for 60 degrees at 4.8 V is what sheets of small servos of 9 g give (second hand, from
// sellers' tables): so 180 degrees take 0.36 s.
TEST(Servo, TwelveHundredthsOfASecondForSixtyDegrees) {
  GaugePart part;  // the default
  part.overshoot_ppm = 0;
  Needle needle(0);
  needle.set(Instant{0}, 60'000, part);
  EXPECT_EQ(needle.ends(), Instant{120'000'000});
  EXPECT_EQ(needle.angle_mdeg(Instant{40'000'000}), 20'000);
  needle = Needle(180'000);
  needle.set(Instant{0}, 0, part);
  EXPECT_EQ(needle.ends(), Instant{360'000'000});
}

// A second-order system with a damping ratio of 1/2 crosses its goal every pi / (w sqrt(3)/2), and
// each swing is e^(-pi / sqrt 3) of the one before (algebra). With the speed v at its arrival the
// first is v/w e^(-pi / (3 sqrt 3)); ours has that height from the step, so w follows.
TEST(Servo, TheSwingIsThatOfADampingRatioOfOneHalf) {
  GaugePart part;
  part.overshoot_ppm = 100'000;
  Needle needle(0);
  needle.set(Instant{0}, 100'000, part);  // arrives after 0.2 s, and goes 10 degrees beyond
  const double speed = 500.0;             // degrees a second
  const double w = speed * std::exp(-M_PI / (3 * std::sqrt(3.0))) / 10.0;
  const double wd = w * std::sqrt(3.0) / 2;
  for (int ms = 0; ms < 600; ms += 7) {
    const double s = ms / 1e3;
    const double exact = 100 + speed / wd * std::exp(-w * s / 2) * std::sin(wd * s);
    // Two swings of it, then rest: what is left out is 0.7 % of the overshoot.
    const double allowed = s < 4 * M_PI / wd ? 0.02 : 0.08;
    EXPECT_NEAR(static_cast<double>(needle.angle_mdeg(Instant{(200 + ms) * 1'000'000})) / 1e3,
                exact, allowed)
        << ms;
  }
}

// The codes of the figures with a to g in bits 0 to 6: common practice, printed in the notes of
// most drivers; 6 and 9 with their tails.
TEST(SevenSegments, TheCodesOfTheTenFigures) {
  const std::array<int, 10> codes = {0x3F, 0x06, 0x5B, 0x4F, 0x66, 0x6D, 0x7D, 0x07, 0x7F, 0x6F};
  for (int figure = 0; figure < 10; ++figure)
    EXPECT_EQ(segments_of(static_cast<char>('0' + figure)),
              codes[static_cast<std::size_t>(figure)]);
  EXPECT_EQ(segments_of('-'), 0x40);
  // A to F of hexadecimal counters, same practice: A b C d E F.
  EXPECT_EQ(segments_of('A'), 0x77);
  EXPECT_EQ(segments_of('b'), 0x7C);
  EXPECT_EQ(segments_of('C'), 0x39);
  EXPECT_EQ(segments_of('d'), 0x5E);
  EXPECT_EQ(segments_of('E'), 0x79);
  EXPECT_EQ(segments_of('F'), 0x71);
}

// A resonator passes 1/sqrt 2 where Q (r - 1/r) = 1, its half-power points, f0/Q apart (algebra).
// Harmonics far from it add a little.
TEST(Buzzer, TheHalfPowerPointsAreAQthOfTheResonanceApart) {
  const double half = 0.5 / kBuzzerQ;
  const double above = half + std::sqrt(half * half + 1);
  const double below = above - 1.0 / kBuzzerQ;
  for (const double ratio : {below, above})
    EXPECT_NEAR(static_cast<double>(
                    level_at_ppm(static_cast<std::int64_t>(2'700'000 * ratio + 0.5), 2'700)),
                1e6 / std::sqrt(2.0), 2'000);
}

// CIE 15, worked out from its formula; more such values stand in pins_and_light_test.cpp.
TEST(Light, QuartersAndHalvesOfTheLight) {
  EXPECT_NEAR(lightness(0.25), 57.0754, 1e-4);
  EXPECT_NEAR(lightness(0.5), 76.0693, 1e-4);
  EXPECT_NEAR(lightness(0.0441548), 25.0, 1e-4);
  EXPECT_NEAR(lightness(0.482781), 75.0, 1e-4);
}

}  // namespace
}  // namespace understudy
