// What a program makes of several pins, where no published table is at hand; that one is in
// tests/reference/.
#include "sim/manners/decoders.h"

#include <gtest/gtest.h>

namespace understudy {
namespace {

Sends range(std::int64_t low, std::int64_t high) {
  return {.low = low, .high = high, .decimals = 0, .words = {}, .given = true};
}

TEST(Decoders, TheFirstClosedPinIsThePlaceAndAGapKeepsTheLastOrReadsTheFirst) {
  EXPECT_EQ(place_read(0b0100, 4, 0, true), 2);
  EXPECT_EQ(place_read(0b0110, 4, 0, true), 1);
  EXPECT_EQ(place_read(0, 4, 3, true), 3);
  EXPECT_EQ(place_read(0, 4, 3, false), 0);
}

TEST(Decoders, PlacesSpreadEvenlyOverTheirRangeOrCountWords) {
  for (int place = 0; place < 5; ++place) {
    EXPECT_EQ(wire_number_of_place(place, 5, range(0, 4)), place);
    EXPECT_EQ(wire_number_of_place(place, 5, range(100, 500)), 100 + 100 * place);
    EXPECT_EQ(wire_number_of_place(place, 5, range(4, 0)), 4 - place);
  }
}

TEST(Decoders, ACountWrapsAroundAndZeroStaysZero) {
  EXPECT_EQ(wire_number_of_count(0, range(-5, 5)), 0);
  EXPECT_EQ(wire_number_of_count(5, range(-5, 5)), 5);
  EXPECT_EQ(wire_number_of_count(6, range(-5, 5)), -5);
  EXPECT_EQ(wire_number_of_count(-6, range(-5, 5)), 5);
  EXPECT_EQ(wire_number_of_count(0, range(1, 24)), 1);
  EXPECT_EQ(wire_number_of_count(24, range(1, 24)), 1);
  EXPECT_EQ(wire_number_of_count(3, range(10, -10)), -3);
}

TEST(Decoders, AStepIsHeldToItsRange) {
  const Sends count = range(-1'000, 1'000);
  EXPECT_EQ(wire_number_of_step(200, range(-127, 127), count), 127);
  EXPECT_EQ(wire_number_of_step(-200, range(-127, 127), count), -127);
  EXPECT_EQ(wire_number_of_step(3, range(5, -5), count), -3);
}

TEST(Decoders, StepsGoTheWayOfTheCount) {
  EXPECT_EQ(wire_number_of_step(3, range(-5, 5), range(100, -100)), -3);
  EXPECT_EQ(wire_number_of_step(3, range(5, -5), range(100, -100)), 3);
}

TEST(Decoders, TheFirstLookAtAnEncoderCountsNothing) {
  Decoded decoded;
  decoded.take_pins(0b10);
  EXPECT_EQ(decoded.quarters, 0);
  decoded.take_pins(0b11);
  EXPECT_EQ(decoded.quarters, 1);
}

TEST(Decoders, ACounterStartsFromWhereItsProgramStarted) {
  Decoded decoded;
  decoded.take_count(400);
  decoded.take_count(408);
  EXPECT_EQ(decoded.count(EncoderPart{}), 2);
  EXPECT_EQ(decoded.count(EncoderPart{.counts_quarters = true}), 8);
}

TEST(Decoders, DetentsAreRoundedSoThatAKnobAtRestDoesNotFlicker) {
  Decoded decoded;
  for (const auto& [quarters, count] :
       {std::pair{0, 0}, {1, 0}, {2, 1}, {5, 1}, {-1, 0}, {-2, 0}, {-3, -1}, {-4, -1}, {-5, -1}}) {
    decoded.quarters = quarters;
    EXPECT_EQ(decoded.count(EncoderPart{}), count) << quarters;
  }
}

}  // namespace
}  // namespace understudy
