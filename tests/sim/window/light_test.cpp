// What lamps look like, against CIE 15 (lightness) and IEC 61966-2-1 (sRGB).
#include "sim/window/light.h"

#include <gtest/gtest.h>

#include "sim/paint/light.h"

namespace understudy {
namespace {

// IEC 61966-2-1: luminance of an encoded colour.
double luminance_of(std::uint32_t rrggbb) {
  const Light light = light_of(rrggbb);
  return 0.2126 * light.red + 0.7152 * light.green + 0.0722 * light.blue;
}

constexpr const char* kColours[] = {"red", "orange", "amber", "yellow", "green", "blue", "white"};

TEST(SeenLight, HasTheLightnessThatThePublishedFormulaGives) {
  // L* = 116 (Y/Yn)^(1/3) - 16 above (6/29)^3, 903.3 Y/Yn below (CIE 15): worked out by hand.
  const struct {
    double luminance;
    double lightness;
  } kPublished[] = {{0, 0},          {0.00885645, 8}, {0.01, 8.9914},  {0.0441548, 25},
                    {0.18, 49.4961}, {0.184187, 50},  {0.25, 57.0754}, {0.482781, 75},
                    {0.5, 76.0693},  {1, 100}};
  for (const auto& [luminance, lightness] : kPublished)
    EXPECT_NEAR(seen_light(luminance, kBrightestUa).lightness, lightness, 2e-4);
  // The same of percent, from the manual of a colour library that cites CIE 15:2004.
  EXPECT_NEAR(seen_light(0.1219722535, kBrightestUa).lightness, 41.5278758, 1e-6);
  EXPECT_NEAR(seen_light(0.1008, kBrightestUa).lightness, 37.9856290, 1e-6);
}

TEST(SeenLight, HalfTheCurrentIsHalfTheLightAndMoreThanTheFaceCanShowIsTheMost) {
  EXPECT_DOUBLE_EQ(seen_light(1, kBrightestUa / 2).luminance, 0.5);
  EXPECT_DOUBLE_EQ(seen_light(0.5, kBrightestUa / 2).luminance, 0.25);
  EXPECT_DOUBLE_EQ(seen_light(1, 20'000).luminance, 1);
  EXPECT_DOUBLE_EQ(seen_light(1, 0).lightness, 0);
}

TEST(SeenLight, AGreaterNumberIsALighterLamp) {
  OutputDescription lamp;
  lamp.sends = {.low = 0, .high = 255};
  const BoardDescription board;
  for (int number = 1; number <= 255; ++number)
    EXPECT_GT(lamp_light(number, lamp, board).lightness,
              lamp_light(number - 1, lamp, board).lightness);
  EXPECT_EQ(lamp_light(0, lamp, board).lightness, 0);
}

TEST(SeenLight, ABlueLampOnTheSameResistorIsDarkerForItsHigherVoltage) {
  OutputDescription red;
  red.sends = {.low = 0, .high = 255};
  red.resistor_mohm = 1'000'000;
  OutputDescription blue = red;
  blue.forward_uv = 3'200'000;
  const BoardDescription board;
  // (5 V - 3.2 V) / (5 V - 2 V) of the current
  EXPECT_NEAR(lamp_light(255, blue, board).luminance / lamp_light(255, red, board).luminance, 0.6,
              1e-3);
}

TEST(DisplayColour, SendsAsMuchLightOfItsHueAsTheLampGives) {
  for (const char* colour : kColours) {
    const RgbLight hue = hue_light(colour);
    const double full = luminance_of(display_colour(hue, 1));
    double before = -1;
    for (int step = 0; step <= 255; ++step) {
      const double share = step / 255.0;
      const double seen = luminance_of(display_colour(hue, share));
      EXPECT_NEAR(seen, full * share, 0.006) << colour << " " << step;  // bytes are rounded
      EXPECT_GE(seen, before);
      before = seen;
    }
  }
}

TEST(DisplayColour, KeepsTheTransferOfTheStandard) {
  // IEC 61966-2-1: linear 0.5 is 0.735357 encoded, 187.5 of 255.
  EXPECT_EQ(display_colour({1, 1, 1}, 0.5), 0xBCBCBCU);
  EXPECT_EQ(display_colour({1, 1, 1}, 0.214041), 0x7F7F7FU | 0x000000U);
  EXPECT_EQ(display_colour({1, 1, 1}, 0), 0U);
}

TEST(Hues, AreGlassOfTheirColourThatIsDarkerThanTheLampLit) {
  for (const char* colour : kColours) {
    EXPECT_LT(luminance_of(srgb_of(glass_light(colour))) * 2,
              luminance_of(srgb_of(hue_light(colour))))
        << colour;
  }
}

TEST(Glow, GrowsInStrengthAndWidthWithLightness) {
  Glow before = glow_of(seen_light(0, kBrightestUa));
  EXPECT_EQ(before.strength, 0);
  for (int step = 1; step <= 100; ++step) {
    const Glow now = glow_of(seen_light(step / 100.0, kBrightestUa));
    EXPECT_GT(now.strength, before.strength);
    EXPECT_GT(now.radius, before.radius);
    before = now;
  }
  EXPECT_DOUBLE_EQ(before.radius, kWidestGlow);
}

OutputDescription mixed() {
  OutputDescription rgb;
  rgb.kind = OutputKind::kRgb;
  rgb.sends = {.low = 0, .high = 255};
  rgb.rgb.forward_uv = {2'000'000, 2'000'000, 2'000'000};
  return rgb;
}

TEST(Mixture, HasTheHueOfItsPartsAndTheLightOfTheStrongest) {
  const OutputDescription rgb = mixed();
  const BoardDescription board;
  const SeenMixture mixture = rgb_mixture({255, 255, 0}, rgb, board);
  EXPECT_DOUBLE_EQ(mixture.light.red, 1);
  EXPECT_DOUBLE_EQ(mixture.light.green, 1);
  EXPECT_DOUBLE_EQ(mixture.light.blue, 0);
  EXPECT_DOUBLE_EQ(mixture.seen.lightness, 100);
  const SeenMixture by_shares = rgb_mixture_of({1, 1, 0}, rgb, board);
  EXPECT_DOUBLE_EQ(by_shares.light.green, mixture.light.green);
  EXPECT_DOUBLE_EQ(by_shares.seen.luminance, mixture.seen.luminance);
  EXPECT_EQ(rgb_mixture({0, 0, 0}, rgb, board).seen.lightness, 0);
}

}  // namespace
}  // namespace understudy
