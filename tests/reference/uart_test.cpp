// The serial port against the tables of the ATmega328P's data sheet (DS40002061A, 8271H, 7810C).
#include "sim/wire/uart.h"

#include <gtest/gtest.h>

#include "sim/wire/receiver.h"
#include "sim/wire/timed_bytes.h"

namespace understudy {
namespace {

constexpr std::int64_t kCpuHz = 16'000'000;

struct BaudRow {
  std::int64_t baud;
  int samples;
  std::int64_t ubrr;
  double error_percent;
};

// DS40002061A, table 20-4 (and 2545D, table 84, p. 188), at 16.0000 MHz.
TEST(UartTable, DividersAndErrorsAreThoseOfTheSheet) {
  constexpr BaudRow kRows[] = {
      {2'400, 16, 416, -0.08}, {4'800, 16, 207, 0.16}, {9'600, 16, 103, 0.16},
      {14'400, 16, 68, 0.64},  {19'200, 16, 51, 0.16}, {28'800, 16, 34, -0.79},
      {38'400, 16, 25, 0.16},  {57'600, 16, 16, 2.12}, {76'800, 16, 12, 0.16},
      {115'200, 16, 8, -3.55}, {230'400, 16, 3, 8.51}, {250'000, 16, 3, 0},
      {500'000, 16, 1, 0},     {1'000'000, 16, 0, 0},  {2'400, 8, 832, 0.04},
      {4'800, 8, 416, -0.08},  {9'600, 8, 207, 0.16},  {14'400, 8, 138, -0.08},
      {19'200, 8, 103, 0.16},  {28'800, 8, 68, 0.64},  {38'400, 8, 51, 0.16},
      {57'600, 8, 34, -0.79},  {76'800, 8, 25, 0.16},  {115'200, 8, 16, 2.12},
      {230'400, 8, 8, -3.55},  {250'000, 8, 7, 0},     {500'000, 8, 3, 0},
      {1'000'000, 8, 1, 0},
  };
  for (const BaudRow& row : kRows) {
    const BaudDivider divider = nearest_divider(kCpuHz, row.baud, row.samples);
    EXPECT_EQ(divider.ubrr, row.ubrr) << row.baud << " with " << row.samples;
    const double percent = static_cast<double>(baud_error_ppm(divider, row.baud)) / 1e4;
    EXPECT_NEAR(percent, row.error_percent, 0.005) << row.baud << " with " << row.samples;
  }
}

// 8271H, section 20.10: (closest / wanted - 1) * 100 %.
TEST(UartTable, TheErrorOf115200IsMinus3549OrPlus2124ThousandthsOfAPercent) {
  EXPECT_NEAR(baud_error_ppm(nearest_divider(kCpuHz, 115'200, 16), 115'200) / 1e4, -3.549, 0.001);
  EXPECT_NEAR(baud_error_ppm(nearest_divider(kCpuHz, 115'200, 8), 115'200) / 1e4, 2.124, 0.001);
  EXPECT_EQ(baud_error_ppm(nearest_divider(kCpuHz, 250'000, 8), 250'000), 0);
}

// A ROM that asks for 115200 of a crystal of 40 MHz gets 26/40 of it where one of 26 MHz is fitted:
// 74880 baud, as everybody finds who looks at such a chip's first words (worked out; that it is why
// they stand at 74880 is common practice). No receiver for 115200 stands that: by the sheet's own
// formula (7810C, p. 184) it takes 95.36 to 104.58 %.
TEST(UartRange, ARomMeantFor40MegahertzSpeaksAt74880On26AndNobodyAt115200CanReadIt) {
  EXPECT_EQ(115'200 * 26 / 40, 74'880);
  EXPECT_FALSE(readable({74'880, 1}, {115'200, 1}, receiver_range(8, 16)));
  EXPECT_TRUE(readable({74'880, 1}, {76'800, 1}, receiver_range(8, 16)));
  EXPECT_TRUE(readable({74'880, 1}, {74'880, 1}, receiver_range(8, 16)));
}

double percent(Ratio r) {
  return 100.0 * static_cast<double>(r.num) / static_cast<double>(r.den);
}

// 7810C, p. 184, tables 19-2 and 19-3: slowest and fastest in percent.
TEST(UartRange, SlowestAndFastestAreThoseOfTheSheet) {
  struct Row {
    int bits;
    int samples;
    double slowest;
    double fastest;
  };
  constexpr Row kRows[] = {
      {5, 16, 93.20, 106.67}, {6, 16, 94.12, 105.79}, {7, 16, 94.81, 105.11},
      {8, 16, 95.36, 104.58}, {9, 16, 95.81, 104.14}, {10, 16, 96.17, 103.78},
      {5, 8, 94.12, 105.66},  {6, 8, 94.92, 104.92},  {7, 8, 95.52, 104.35},
      {8, 8, 96.00, 103.90},  {9, 8, 96.39, 103.53},  {10, 8, 96.70, 103.23},
  };
  for (const Row& row : kRows) {
    const ReceiverRange range = receiver_range(row.bits, row.samples);
    EXPECT_NEAR(percent(range.slowest), row.slowest, 0.0051) << row.bits << "/" << row.samples;
    EXPECT_NEAR(percent(range.fastest), row.fastest, 0.0051) << row.bits << "/" << row.samples;
  }
}

// The sheet prints "+4.58/-4.54 %" for eight bits with 16 samples (7810C p. 184, and its sibling
// 2552H p. 177). By its own formula and its own column of 95.36 % it is -4.64 %: a misprint.
TEST(UartRange, TheSheetsMinus454PercentIsAMisprintOfMinus464) {
  const ReceiverRange range = receiver_range(8, 16);
  EXPECT_NEAR(percent(range.slowest), 95.364, 0.001);
  EXPECT_NEAR(percent(range.fastest), 104.575, 0.001);
  EXPECT_NEAR(percent(range.slowest) - 100.0, -4.64, 0.005);
}

TEST(UartRange, EightSamplesStandLess) {
  const ReceiverRange range = receiver_range(8, 8);
  EXPECT_NEAR(percent(range.slowest), 96.000, 0.001);
  EXPECT_NEAR(percent(range.fastest), 103.896, 0.001);
}

// Verdicts by the formula of 8271H, 20.8.3; the other side exact, 8N1.
TEST(UartRange, PairsOfSpeedsAreReadableOrNot) {
  const auto into = [](std::int64_t incoming, int samples) {
    const BaudDivider own = nearest_divider(kCpuHz, incoming, samples);
    return readable({incoming, 1}, own.actual_baud, receiver_range(8, samples));
  };
  EXPECT_TRUE(into(115'200, 8));    // ratio 0.9792
  EXPECT_TRUE(into(115'200, 16));   // 1.0368
  EXPECT_FALSE(into(230'400, 16));  // 0.9216
  EXPECT_TRUE(into(230'400, 8));    // 1.0368, by 0.2 %
  EXPECT_FALSE(readable({9'600, 1}, {115'200, 1}, receiver_range(8, 16)));
}

// The same verdict from the sampling receiver, which knows no formula.
TEST(UartRange, TheSamplingReceiverHasFramingErrorsWhereTheFormulaSaysSo) {
  std::string all;
  for (int i = 0; i < 256; ++i) all += static_cast<char>(i);
  const auto errors = [&](std::int64_t incoming, int samples) {
    const BaudDivider own = nearest_divider(kCpuHz, incoming, samples);
    return received(all, {.sender_baud = {incoming, 1},
                          .own_baud = own.actual_baud,
                          .samples_per_bit = samples})
        .frame_errors;
  };
  EXPECT_GT(errors(230'400, 16), 0);
  EXPECT_EQ(errors(115'200, 8), 0);
  EXPECT_EQ(errors(115'200, 16), 0);
}

// 8271H, 20.8.2: the middle three samples vote.
TEST(UartSampling, TheMajorityOfThreeSamplesIsTheBit) {
  EXPECT_TRUE(majority(true, false, true));
  EXPECT_FALSE(majority(false, true, false));
}

// 8271H, 20.4: a start bit, eight data bits, a stop bit: ten bit times a byte.
TEST(UartFrame, ByteTimesAreTenBitTimes) {
  const auto nanoseconds_of = [](std::int64_t baud, std::size_t bytes) {
    TimedBytes<64, 2> wire(byte_time({baud, 1}, bits_per_byte(WireDescription{})));
    wire.send(Instant{0}, std::string(bytes, 'x'));
    return wire.arrival(bytes - 1).ns;
  };
  EXPECT_NEAR(static_cast<double>(nanoseconds_of(9'600, 1)), 1'041'666.7, 1);
  EXPECT_NEAR(static_cast<double>(nanoseconds_of(115'200, 1)), 86'805.6, 1);
  EXPECT_NEAR(static_cast<double>(nanoseconds_of(115'200, 23)), 1'996'527.8, 1);
  EXPECT_EQ(nanoseconds_of(250'000, 1), 40'000);
  EXPECT_NEAR(static_cast<double>(nanoseconds_of(9'600, 23)), 23'958'333.3, 1);
}

TEST(UartFrame, ParityOrASecondStopBitMakesElevenBits) {
  WireDescription wire;
  wire.parity = Parity::kEven;
  EXPECT_EQ(bits_per_byte(wire), 11);
  wire.parity = Parity::kNone;
  wire.stop_bits = 2;
  EXPECT_EQ(bits_per_byte(wire), 11);
}

}  // namespace
}  // namespace understudy
