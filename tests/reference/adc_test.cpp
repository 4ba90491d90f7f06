// The converter against the data sheet of the ATmega328P and the numbers that follow from it.
// Sheets: 8271H (08/2014), 8161D (10/09). Integral and differential nonlinearity, gain and offset
// errors of a real converter are not modelled: ours is ideal but for noise and settling.
#include "sim/board/adc.h"

#include <gtest/gtest.h>

#include "sim/base/random.h"
#include "sim/controls/pot.h"

namespace understudy {
namespace {

BoardDescription board_at(std::int64_t adc_clock_hz) {
  BoardDescription board;
  board.adc_clock_mhz = adc_clock_hz * 1'000;
  board.adc_bits = 10;
  board.reference_uv = 5'000'000;
  return board;
}

Duration length(const Conversion& conversion, Instant start) {
  return conversion.done_at - start;
}

// 8271H, section 24.4, p. 241: 13 ADC clocks a conversion, 25 the first; at 125 kHz.
TEST(AdcTiming, AConversionTakes104MicrosecondsAndTheFirst200) {
  const Adc adc(board_at(125'000));
  EXPECT_EQ(length(adc.conversion(Instant{0}, false), Instant{0}).ns, 104'000);
  EXPECT_EQ(length(adc.conversion(Instant{0}, true), Instant{0}).ns, 200'000);
}

// 8271H, p. 241: the sample is held 1.5 clocks after the start, 13.5 at the first conversion.
TEST(AdcTiming, TheSampleIsTakenOneAndAHalfClocksAfterTheStart) {
  const Adc adc(board_at(125'000));
  EXPECT_EQ(adc.conversion(Instant{0}, false).samples_at.ns, 12'000);
  EXPECT_EQ(adc.conversion(Instant{0}, true).samples_at.ns, 108'000);
}

// 8271H, p. 241: a start waits for the next edge of the ADC clock, so 13 to 14 clocks.
TEST(AdcTiming, ASoftwareStartedReadingTakes104To112AndOnAverage108) {
  const Adc adc(board_at(125'000));
  Stream phase(1, "phase");
  std::int64_t sum = 0;
  constexpr int kReadings = 10'000;
  for (int i = 0; i < kReadings; ++i) {
    const Instant start{phase.below(1'000'000'000)};
    const std::int64_t took = length(adc.conversion(start, false), start).ns;
    ASSERT_GE(took, 104'000);
    ASSERT_LE(took, 112'000);
    sum += took;
  }
  // A uniform wait of 8 us has a standard deviation of 2.31 us, its mean over 10^4 one of 0.023.
  EXPECT_NEAR(static_cast<double>(sum) / kReadings, 108'000, 100);
}

// 8161D, table 28-7, p. 323: conversion time 13 to 260 us for clocks of 1000 to 50 kHz.
TEST(AdcTiming, TheLimitsOfTheClockGiveTheLimitsOfTheSheet) {
  EXPECT_EQ(length(Adc(board_at(50'000)).conversion(Instant{0}, false), Instant{0}).ns, 260'000);
  EXPECT_EQ(length(Adc(board_at(1'000'000)).conversion(Instant{0}, false), Instant{0}).ns, 13'000);
}

// 8271H, "ADC Conversion Result": Vin * 1024 / Vref (the formula from memory of the sheet). It
// truncates; the sheet's accuracy section (8271D, p. 260) would put each step half a code lower,
// so either reading may differ by one code.
TEST(AdcCode, VoltagesGiveTheCodesOfTheResultFormula) {
  const Adc adc(board_at(125'000));
  EXPECT_EQ(adc.code(0), 0);
  EXPECT_EQ(adc.code(1'100'000), 225);
  EXPECT_EQ(adc.code(2'500'000), 512);
  EXPECT_EQ(adc.code(3'300'000), 675);
  EXPECT_EQ(adc.code(5'000'000), 1'023);
  EXPECT_EQ(adc.code(-20'000), 0);
  EXPECT_EQ(adc.code(9'000'000), 1'023);
}

// 8161D, table 28-7: absolute accuracy typically 2 LSB at 200 kHz. Ours is within one.
TEST(AdcCode, ASweepStaysWithinTwoStepsOfTheIdealLine) {
  const Adc adc(board_at(200'000));
  for (std::int64_t uv = 0; uv <= 5'000'000; uv += 61) {
    const double ideal = static_cast<double>(uv) * 1'024.0 / 5e6;
    ASSERT_NEAR(static_cast<double>(adc.code(uv)), ideal, 2.0);
  }
}

// Sampling through 10 kohm outside and 100 kohm inside into 14 pF (ATmega169P 8018A fig. 21-8; the
// 328P's figure is the same), window 12 us: what is left of a full step, 1024 * exp(-t / RC).
TEST(AdcSettling, TenKiloohmsJustSettleAndAMegohmDoesNot) {
  const auto left_lsb = [](std::int64_t source_ohm) {
    const std::int64_t residue =
        settling_residue_in_2_24(source_ohm * 1'000, 100'000'000, 14'000, microseconds(12));
    return 1'024.0 * static_cast<double>(residue) / static_cast<double>(kResidueOne);
  };
  EXPECT_NEAR(left_lsb(10'000), 0.42, 0.01);
  EXPECT_NEAR(left_lsb(1'000'000), 469.8, 0.5);
  EXPECT_NEAR(left_lsb(100'000), 14.1, 0.05);
  EXPECT_NEAR(left_lsb(10'000'000), 941, 1);
}

}  // namespace
}  // namespace understudy
