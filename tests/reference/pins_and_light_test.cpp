// Pins, PWM and light against data sheets and published colour numbers.
#include <gtest/gtest.h>

#include "sim/board/pins.h"
#include "sim/board/pwm.h"

namespace understudy {
namespace {

// ATmega88A DS40002007A p. 144 and ATmega168PA p. 147 (the same timer): f / (N * 256), f / (N *
// 510).
TEST(Pwm, FrequenciesAt16MHzWithPrescaler64) {
  EXPECT_NEAR(pwm_frequency_hz(16e6, 64, false), 976.5625, 1e-5);
  EXPECT_NEAR(pwm_frequency_hz(16e6, 64, true), 490.19608, 1e-5);
  EXPECT_NEAR(pwm_frequency_hz(16e6, 1, false), 62'500, 1e-9);
  EXPECT_NEAR(pwm_frequency_hz(16e6, 1'024, true), 30.637, 1e-3);
}

// The same pages: fast, a spike of one clock at 0 and constantly high at the top; phase correct,
// constantly low at 0.
TEST(Pwm, DutiesOfTheLowestMiddleAndHighestCompareValue) {
  EXPECT_NEAR(pwm_duty(0, false), 1.0 / 256, 1e-12);
  EXPECT_NEAR(pwm_duty(127, false), 128.0 / 256, 1e-12);
  EXPECT_NEAR(pwm_duty(255, false), 1.0, 1e-12);
  EXPECT_NEAR(pwm_duty(0, true), 0.0, 1e-12);
  EXPECT_NEAR(pwm_duty(127, true), 127.0 / 255, 1e-12);
  EXPECT_NEAR(pwm_duty(255, true), 1.0, 1e-12);
}

// ATmega328P 8271H, table 29-1, p. 300: low below 0.3 Vcc, high above 0.6 Vcc, undefined between.
TEST(Pins, FiveVoltLogicReadsLowHighOrKeepsWhatItHad) {
  for (const bool before : {false, true}) {
    EXPECT_FALSE(level_read(1'490'000, 5'000'000, before));
    EXPECT_TRUE(level_read(3'010'000, 5'000'000, before));
    EXPECT_EQ(level_read(2'200'000, 5'000'000, before), before);
  }
}

// Pull-ups of 20 to 50 kohm (DS40002061-family sheets): a dirty contact is surely low below
// R * 0.3 / 0.7 and surely high above R * 1.5 (worked out from the thresholds).
TEST(Pins, ADirtyContactIsLowUpTo8500OhmsAndHighFrom76Kiloohms) {
  const auto pin_of = [](std::int64_t contact_ohm, std::int64_t pull_up_ohm) {
    return pin_microvolts(true, contact_ohm * 1'000, Wiring::kPullUp, pull_up_ohm * 1'000,
                          5'000'000);
  };
  for (const bool before : {false, true}) {
    EXPECT_FALSE(level_read(pin_of(8'500, 20'000), 5'000'000, before));
    EXPECT_TRUE(level_read(pin_of(76'000, 50'000), 5'000'000, before));
  }
  EXPECT_EQ(level_read(pin_of(20'000, 20'000), 5'000'000, true), true);  // in between
  EXPECT_EQ(level_read(pin_of(20'000, 20'000), 5'000'000, false), false);
}

TEST(Pins, APullDownIsThePullUpTurnedOver) {
  EXPECT_EQ(pin_microvolts(false, 100, Wiring::kPullDown, 35'000'000, 5'000'000), 0);
  EXPECT_GT(pin_microvolts(true, 100, Wiring::kPullDown, 35'000'000, 5'000'000), 4'999'000);
  EXPECT_EQ(pin_microvolts(false, 100, Wiring::kPullUp, 35'000'000, 5'000'000), 5'000'000);
}

// CIE 15 lightness; the number is from the documentation of an open colour library (lightness of
// CIE 1976, Y = 12.19722535 of 100) and was worked out again.
TEST(Light, LightnessOfTheDocumentedLuminance) {
  EXPECT_NEAR(lightness(0.1219722535), 41.5278758, 1e-6);
  EXPECT_NEAR(lightness(0.1008), 37.9856290, 1e-6);
  EXPECT_NEAR(lightness(1.0), 100.0, 1e-12);
  EXPECT_NEAR(lightness(0.01), 8.9914, 1e-4);
}

// Half as bright to the eye takes 18.4 % of the light.
TEST(Light, EighteenPercentOfTheLightLooksHalfAsBright) {
  EXPECT_NEAR(lightness(0.18418652), 50.0, 1e-6);
  EXPECT_NEAR(lightness(0.00885645), 8.0, 1e-4);
}

}  // namespace
}  // namespace understudy
