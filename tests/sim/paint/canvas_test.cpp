// The painter against plane geometry and the standard of sRGB; that it repeats itself to the byte.
#include "sim/paint/canvas.h"

#include <gtest/gtest.h>

#include <numbers>

#include "sim/paint/enamel.h"

namespace understudy {
namespace {

double painted_area(const Shape& shape, float scale) {
  Canvas canvas({-12, -12, 12, 12}, scale);
  canvas.fill(shape, Light{1, 1, 1});
  double area = 0;
  for (int row = 0; row < canvas.height(); ++row) {
    for (int column = 0; column < canvas.width(); ++column) {
      area += static_cast<double>(canvas.at(column, row).alpha);
    }
  }
  return area / static_cast<double>(scale) / static_cast<double>(scale);
}

TEST(Shapes, CoverWhatPlaneGeometrySays) {
  const double pi = std::numbers::pi;
  EXPECT_NEAR(painted_area(circle({0.3F, -0.2F}, 9), 5), pi * 81, 0.3);
  EXPECT_NEAR(painted_area(ring({}, 8, 2), 5), pi * (81 - 49), 0.3);
  EXPECT_NEAR(painted_area(capsule({-5, 0}, {5, 0}, 2), 5), 40 + pi * 4, 0.3);
  EXPECT_NEAR(painted_area(rounded({-8, -5, 8, 5}, 2), 5), 160 - (4 - pi) * 4, 0.3);
  EXPECT_NEAR(painted_area(turned(rounded({-8, -5, 8, 5}, 0), {}, 30), 5), 160, 0.5);
}

TEST(Shapes, TurnClockwiseAsSeen) {
  const Shape right = turned(circle({0, -5}, 1), {}, 90);
  EXPECT_LT(right.distance({5, 0}), -0.9F);
  EXPECT_NEAR(at_angle({}, 5, 90).x, 5, 1e-4);
}

// IEC 61966-2-1: 0.5 of light is byte 188, byte 128 is 0.2158605 of light.
TEST(Light, FollowsTheTransferFunctionOfTheStandard) {
  EXPECT_NEAR(linear_of(128.0F / 255), 0.2158605F, 1e-5F);
  EXPECT_NEAR(encoded_of(0.5F) * 255, 187.5F, 0.1F);
  EXPECT_NEAR(linear_of(10.0F / 255), 0.00303527F, 1e-6F);
}

TEST(Canvas, MixesLightAndNotBytes) {
  Canvas canvas({0, 0, 2, 2}, 1);
  canvas.fill(rounded({-1, -1, 3, 3}, 0), Light{});
  canvas.fill(rounded({-1, -1, 3, 3}, 0), Light{1, 0.5F, 0}, 0.5F);
  EXPECT_NEAR(canvas.at(1, 1).light.red, 0.5F, 1e-6F);
  const Bitmap seen = canvas.bitmap();
  EXPECT_NEAR(seen.rgba[0], 188, 1);  // half of the light, where bytes would have given 128
  EXPECT_NEAR(seen.rgba[1], 137, 1);  // a quarter
}

TEST(Canvas, AShadowFadesAwayFromWhatThrowsIt) {
  float last = 1;
  for (float distance = -3; distance < 3; distance += 0.1F) {
    const float now = shadow_at(distance, 2);
    EXPECT_LE(now, last);
    last = now;
  }
  EXPECT_EQ(shadow_at(2, 2), 0);
  EXPECT_EQ(shadow_at(-2, 2), 1);
}

TEST(Canvas, PaintsTheSameTwice) {
  const auto paint = [] {
    Canvas canvas({0, 0, 40, 30}, 4);
    const Shape plate = rounded({2, 2, 38, 28}, 3);
    canvas.shadow(plate, {.height = 3});
    canvas.cover(plate, enamel_tile({}, 4), {});
    canvas.hole(circle({20, 15}, 5), light_of(0x101010), 1);
    return canvas.bitmap().rgba;
  };
  EXPECT_EQ(paint(), paint());
}

TEST(Enamel, StaysPaintWhereAPixelIsCoarse) {
  for (const float scale : {1.2F, 5.0F, 10.0F}) {
    const Canvas::Tile tile = enamel_tile({}, scale);
    double sum = 0;
    double squares = 0;
    for (const Light& light : tile.pixels) {
      sum += static_cast<double>(light.green);
      squares += static_cast<double>(light.green) * static_cast<double>(light.green);
    }
    const auto count = static_cast<double>(tile.pixels.size());
    const double mean = sum / count;
    EXPECT_NEAR(mean, static_cast<double>(EnamelLook{}.colour.green), mean * 0.3) << scale;
    EXPECT_LT(squares / count - mean * mean, mean * mean * 0.09) << scale;  // 30 % at most
  }
}

}  // namespace
}  // namespace understudy
