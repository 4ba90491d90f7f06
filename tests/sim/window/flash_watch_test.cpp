// Flashes against the words of WCAG 2.2, success criterion 2.3.1 and its term "general flash and
// red flash thresholds": a general flash is a pair of opposing changes in relative luminance of 10
// % or more of the maximum where the darker is below 0.80; more than three in any one second are
// too many. Saturated red: R / (R + G + B) >= 0.8.
#include "sim/window/flash_watch.h"

#include <gtest/gtest.h>

namespace understudy {
namespace {

Instant at_ms(std::int64_t ms) {
  return Instant{} + milliseconds(ms);
}

// Up and down so many times, evenly, beginning at `from`; the counter was told the low before.
FlashCounter flashed(int times, std::int64_t period_ms, double low, double high) {
  FlashCounter counter;
  counter.take({}, low);
  for (int i = 0; i < times; ++i) {
    counter.take(at_ms(1'000 + i * period_ms), high);
    counter.take(at_ms(1'000 + i * period_ms + period_ms / 2), low);
  }
  return counter;
}

TEST(Flashes, APairOfOpposingChangesIsOneAndHalfAPairNone) {
  FlashCounter counter;
  counter.take({}, 0);
  counter.take(at_ms(100), 1);
  EXPECT_EQ(counter.flashes(at_ms(100)), 0);
  counter.take(at_ms(200), 0);
  EXPECT_EQ(counter.flashes(at_ms(200)), 1);
}

TEST(Flashes, ThreeASecondAreAllowedAndFourAreNot) {
  for (std::int64_t end = 1'000; end < 3'000; end += 10) {
    EXPECT_LE(flashed(6, 333, 0, 1).flashes(at_ms(end)), kFlashesAllowed);
  }
  EXPECT_EQ(flashed(4, 250, 0, 1).flashes(at_ms(1'999)), 4);
}

TEST(Flashes, TheSecondSlidesSoThatABurstAcrossAFullSecondIsFoundAndAnOldOneForgotten) {
  FlashCounter counter;
  counter.take({}, 0);
  for (const std::int64_t t : {1'700, 1'900, 2'100, 2'300}) {  // two on either side of 2 s
    counter.take(at_ms(t), 1);
    counter.take(at_ms(t + 50), 0);
  }
  EXPECT_EQ(counter.flashes(at_ms(2'350)), 4);
  EXPECT_EQ(counter.flashes(at_ms(2'800)), 3);  // 1.8 s and before lie outside
  EXPECT_EQ(counter.flashes(at_ms(3'400)), 0);
}

TEST(Flashes, ChangesOfLessThanATenthDoNotCountAndThoseOfATenthDo) {
  EXPECT_EQ(flashed(5, 100, 0.3, 0.399).flashes(at_ms(1'499)), 0);
  EXPECT_EQ(flashed(5, 100, 0.3, 0.4).flashes(at_ms(1'499)), 5);
}

TEST(Flashes, BetweenBrightStatesDoNotCountUnlessTheDarkerIsBelowEightTenths) {
  EXPECT_EQ(flashed(5, 100, 0.80, 1).flashes(at_ms(1'499)), 0);
  EXPECT_EQ(flashed(5, 100, 0.79, 1).flashes(at_ms(1'499)), 5);
}

TEST(Flashes, AFadeInSmallStepsIsOneChangeAndNotMany) {
  FlashCounter counter;
  for (int step = 0; step <= 40; ++step) {
    const double share = step <= 20 ? step / 20.0 : (40 - step) / 20.0;
    counter.take(at_ms(1'000 + step * 20), share);
  }
  EXPECT_EQ(counter.flashes(at_ms(1'800)), 1);
}

TEST(Flashes, AFlickerOnTheWayUpDoesNotMakeTwoOfOneRise) {
  FlashCounter counter;
  std::int64_t t = 1'000;
  for (const double share : {0.0, 0.4, 0.35, 0.7, 0.65, 1.0, 0.95, 1.0})
    counter.take(at_ms(t++), share);
  counter.take(at_ms(1'100), 0);
  EXPECT_EQ(counter.flashes(at_ms(1'100)), 1);
}

PanelDescription panel_of(std::initializer_list<const char*> colours) {
  PanelDescription panel;
  for (const char* colour : colours) {
    OutputDescription lamp;
    lamp.name = std::string(colour) + "_lamp";
    lamp.colour = colour;
    lamp.sends = {.low = 0, .high = 255};
    panel.outputs.push_back(lamp);
  }
  return panel;
}

void flash(FlashWatch& watch, std::int64_t ms, std::uint16_t output, std::int64_t number) {
  watch.take({.due = at_ms(ms), .output = output, .number = number});
}

TEST(FlashWatch, ALampAtFiveHertzIsNamedWithItsRateAndForgottenAfterAWhile) {
  const PanelDescription panel = panel_of({"green", "red"});
  FlashWatch watch(panel);
  for (int i = 0; i < 10; ++i) {
    flash(watch, 1'000 + i * 200, 0, 255);
    flash(watch, 1'100 + i * 200, 0, 0);
  }
  watch.pass(at_ms(3'000));
  ASSERT_EQ(watch.cautions().size(), 1U);
  EXPECT_EQ(watch.cautions()[0].outputs, std::vector<std::uint16_t>{0});
  EXPECT_EQ(watch.cautions()[0].flashes, 5);
  EXPECT_FALSE(watch.cautions()[0].saturated_red);
  EXPECT_EQ(words_of(watch.cautions()[0], panel),
            "green lamp flashes 5 times in one second; more than 3 can be dangerous to look at");
  watch.pass(at_ms(7'800));
  EXPECT_EQ(watch.cautions().size(), 1U);
  watch.pass(at_ms(7'950));
  EXPECT_TRUE(watch.cautions().empty());
}

TEST(FlashWatch, ARedLampIsSaturatedRedAndAnAmberOneIsNot) {
  for (const char* colour : {"red", "amber"}) {
    FlashWatch watch(panel_of({colour}));
    for (int i = 0; i < 5; ++i) {
      flash(watch, 1'000 + i * 200, 0, 255);
      flash(watch, 1'100 + i * 200, 0, 0);
    }
    watch.pass(at_ms(2'000));
    ASSERT_EQ(watch.cautions().size(), 1U);
    EXPECT_EQ(watch.cautions()[0].saturated_red, colour == std::string("red"));
  }
}

TEST(FlashWatch, ThreeFlashesASecondForTenSecondsGiveNoCaution) {
  FlashWatch watch(panel_of({"white"}));
  for (int i = 0; i < 30; ++i) {
    flash(watch, 1'000 + i * 334, 0, 255);
    flash(watch, 1'167 + i * 334, 0, 0);
    watch.pass(at_ms(1'200 + i * 334));
    ASSERT_TRUE(watch.cautions().empty());
  }
}

TEST(FlashWatch, LampsThatTakeTurnsFlashTogetherThoughNoneOfThemDoesTooOften) {
  FlashWatch watch(panel_of({"red", "amber", "green"}));
  for (int i = 0; i < 6; ++i) {  // each twice a second, one after the other, dark in between
    const auto lamp = static_cast<std::uint16_t>(i % 3);
    flash(watch, 1'000 + i * 166, lamp, 255);
    flash(watch, 1'080 + i * 166, lamp, 0);
  }
  watch.pass(at_ms(2'000));
  ASSERT_EQ(watch.cautions().size(), 1U);
  EXPECT_EQ(watch.cautions()[0].outputs, (std::vector<std::uint16_t>{0, 1, 2}));
  EXPECT_GT(watch.cautions()[0].flashes, kFlashesAllowed);
}

TEST(FlashWatch, LampsThatChangeWithinTwoMillisecondsAreOneChange) {
  FlashWatch watch(panel_of({"green", "white"}));
  for (int i = 0; i < 10; ++i) {  // light goes from one to the other: together it stays
    flash(watch, 1'000 + i * 300, 0, i % 2 == 0 ? 255 : 0);
    flash(watch, 1'001 + i * 300, 1, i % 2 == 0 ? 0 : 255);
  }
  watch.pass(at_ms(5'000));
  EXPECT_TRUE(watch.cautions().empty());
}

TEST(SteadyAverage, IsTheMeanOverTheWindowByTime) {
  const std::vector<LightStep> steps = {{at_ms(0), 0}, {at_ms(1'250), 1}, {at_ms(1'500), 0.2}};
  // 0 for 250 ms, 1 for 250 ms, 0.2 for 500 ms
  EXPECT_NEAR(steady_average(steps, at_ms(2'000), seconds(1)), 0.35, 1e-12);
  EXPECT_NEAR(steady_average(steps, at_ms(9'000), seconds(1)), 0.2, 1e-12);
  EXPECT_EQ(steady_average({}, at_ms(9'000), seconds(1)), 0);
}

TEST(SteadyAverage, ALampThatFlashesNeverLooksAsIfItDid) {
  FlashWatch watch(panel_of({"red"}));
  FlashCounter seen;
  double least = 1;
  double most = 0;
  for (std::int64_t ms = 0; ms < 6'000; ms += 10) {
    if (ms % 90 == 0) flash(watch, ms, 0, ms / 90 % 2 == 0 ? 255 : 0);  // 5.6 flashes a second
    const double share = watch.average(0, at_ms(ms))[0];
    seen.take(at_ms(ms), share);
    ASSERT_LE(seen.flashes(at_ms(ms)), kFlashesAllowed);
    if (ms < 2'000) continue;
    least = std::min(least, share);
    most = std::max(most, share);
  }
  EXPECT_GT(least, 0.45);
  EXPECT_LT(most, 0.55);
}

}  // namespace
}  // namespace understudy
