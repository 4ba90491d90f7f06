// Quadrature against the published table of two contacts a quarter of a pulse apart, and its
// counts.
#include <gtest/gtest.h>

#include <array>

#include "sim/controls/clicks.h"
#include "sim/manners/decoders.h"

namespace understudy {
namespace {

// Bourns PEC11R and PEC12R data sheets, quadrature output table: clockwise 00, 10, 11, 01 (A
// first), one channel changes at a time; the other way round counter-clockwise.
constexpr std::array<unsigned, 4> kClockwise = {0b00, 0b10, 0b11, 0b01};

TEST(Quadrature, OneCycleIsFourCountsUpOrDown) {
  for (const int way : {1, -1}) {
    Decoded decoded;
    decoded.take_pins(kClockwise[0]);
    for (int i = 1; i <= 4; ++i) decoded.take_pins(kClockwise[static_cast<unsigned>(way * i) % 4]);
    EXPECT_EQ(decoded.quarters, 4 * way);
  }
}

// Algebra: of 16 pairs four are no change, four go up, four down, and in four both bits changed.
TEST(Quadrature, FourOfSixteenTransitionsCannotBeTold) {
  std::array<int, 4> seen{};  // down, none, up, cannot tell
  for (unsigned before = 0; before < 4; ++before)
    for (unsigned now = 0; now < 4; ++now) {
      const int step = quadrature_step(before, now);
      ++seen.at(static_cast<std::size_t>(step + 1));
      EXPECT_EQ(step == kCannotTell, (before ^ now) == 0b11U);
      EXPECT_EQ(step == 0, before == now);
    }
  EXPECT_EQ(seen, (std::array<int, 4>{4, 4, 4, 4}));
}

// The same sheets: 24 pulses are 96 edges a turn; with 24 detents four edges a click, with 12
// pulses and 24 detents two.
TEST(Quadrature, ATurnOf24PulsesIs96CountsAndAClickFourOrTwo) {
  for (const int pulses : {24, 12}) {
    const Clicks clicks(EncoderPart{.detents = 24, .pulses = pulses});
    Decoded decoded;
    std::int64_t after_one_click = 0;
    for (std::int32_t at = 0; at <= kWholeTurn; at += 500) {
      const std::int64_t zone = clicks.zone_of(at);
      decoded.take_pins((clicks.conducts(zone, 0) ? 2U : 0U) |
                        (clicks.conducts(zone, 1) ? 1U : 0U));
      if (at <= kWholeTurn / 24 + 200) after_one_click = decoded.quarters;
    }
    EXPECT_EQ(decoded.quarters, 4 * pulses);
    EXPECT_EQ(after_one_click, pulses / 6);
  }
}

// The sheets' fastest turning, 60 turns a minute: 96 edges a second, 10.42 ms apart. A program that
// looks every 20 ms loses count; one that looks every 5 ms does not.
TEST(Quadrature, LookingTooSeldomLosesClicks) {
  for (const std::int64_t loop_ms : {5, 20}) {
    const Clicks clicks(EncoderPart{});
    Gesture gesture;
    gesture.turn(Instant{}, 10 * kWholeTurn, seconds(10), Curve::kLinear);
    Decoded decoded;
    for (Instant t; t <= Instant{} + seconds(11); t = t + milliseconds(loop_ms)) {
      const std::int64_t zone = clicks.zone_of(gesture.position_ppm(t));
      decoded.take_pins((clicks.conducts(zone, 0) ? 2U : 0U) |
                        (clicks.conducts(zone, 1) ? 1U : 0U));
    }
    if (loop_ms == 5)
      EXPECT_EQ(decoded.quarters, 960);
    else
      EXPECT_LT(std::abs(decoded.quarters), 480);
  }
}

}  // namespace
}  // namespace understudy
