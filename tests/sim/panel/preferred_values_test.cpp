// Resistor series against IEC 60063, and the next value that a lamp needs.
#include "sim/panel/preferred_values.h"

#include <gtest/gtest.h>

#include <vector>

namespace understudy {
namespace {

std::vector<int> listed(std::span<const int> series) {
  return {series.begin(), series.end()};
}

TEST(PreferredValues, TheSeriesAreThoseOfIec60063) {
  // IEC 60063, E12 and E24. A page of preferred values in circulation prints 4.2 for 4.3.
  EXPECT_EQ(listed(e12_values()),
            (std::vector<int>{10, 12, 15, 18, 22, 27, 33, 39, 47, 56, 68, 82}));
  EXPECT_EQ(listed(e24_values()),
            (std::vector<int>{10, 11, 12, 13, 15, 16, 18, 20, 22, 24, 27, 30,
                              33, 36, 39, 43, 47, 51, 56, 62, 68, 75, 82, 91}));
}

TEST(PreferredValues, EveryValueOfE12IsOneOfE24) {
  for (const int value : e12_values())
    EXPECT_NE(std::find(e24_values().begin(), e24_values().end(), value), e24_values().end());
}

struct Lamp {
  std::int64_t supply_uv, forward_uv, current_ua;
  std::int64_t ohm_exact_mohm, e24_mohm, e12_mohm;
};

TEST(PreferredValues, LampsGetTheNextValueAbove) {
  // R = (Vs - Vf) / I, the common formula; series of IEC 60063.
  const Lamp lamps[] = {
      {5'000'000, 2'000'000, 20'000, 150'000, 150'000, 150'000},
      {5'000'000, 2'000'000, 10'000, 300'000, 300'000, 330'000},
      {5'000'000, 3'200'000, 20'000, 90'000, 91'000, 100'000},
      {5'000'000, 3'200'000, 10'000, 180'000, 180'000, 180'000},
  };
  for (const Lamp& lamp : lamps) {
    const std::int64_t exact = resistance_for(lamp.supply_uv - lamp.forward_uv, lamp.current_ua);
    EXPECT_EQ(exact, lamp.ohm_exact_mohm);
    EXPECT_EQ(next_in_series(exact, e24_values()), lamp.e24_mohm);
    EXPECT_EQ(next_in_series(exact, e12_values()), lamp.e12_mohm);
  }
}

TEST(PreferredValues, ResistancesAreRoundedUpSoThatTheCurrentStaysBelow) {
  EXPECT_EQ(resistance_for(1'000'001, 20'000), 50'001);
  EXPECT_EQ(resistance_for(0, 20'000), 0);
  EXPECT_EQ(resistance_for(-1, 20'000), 0);
  EXPECT_EQ(next_in_series(82'001, e12_values()), 100'000);
  EXPECT_EQ(next_in_series(91'001, e24_values()), 100'000);
  EXPECT_EQ(next_in_series(100'000, e24_values()), 100'000);
}

}  // namespace
}  // namespace understudy
