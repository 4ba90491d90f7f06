// Quantities as people write them, read and written back.
#include "sim/base/units.h"

#include <gtest/gtest.h>
#include <rapidcheck.h>

#include "sim/base/ratio.h"
#include "sim/base/text.h"

namespace understudy {
namespace {

TEST(Units, QuantitiesAreReadAsPeopleWriteThem) {
  EXPECT_EQ(parse_quantity("20 ms", Unit::kTime), 20'000'000);
  EXPECT_EQ(parse_quantity("1.5s", Unit::kTime), 1'500'000'000);
  EXPECT_EQ(parse_quantity("220 ohm", Unit::kResistance), 220'000);
  EXPECT_EQ(parse_quantity("4.7k", Unit::kResistance), 4'700'000);
  EXPECT_EQ(parse_quantity("220", Unit::kResistance), 220'000);
  EXPECT_EQ(parse_quantity("2 %", Unit::kShare), 20'000);
  EXPECT_EQ(parse_quantity("0.4", Unit::kShare), 400'000);
  EXPECT_EQ(parse_quantity(" -3.3 V ", Unit::kVoltage), -3'300'000);
}

TEST(Units, WhatIsNoQuantityIsRefused) {
  for (const char* text : {"", "ms", "20", "20 m", "1,5 ms", "0x10 ms", "1e3 ms", "20 ms 3",
                           "99999999999999999999999999 s", "0.1 ns", "- 5 ms"})
    EXPECT_FALSE(parse_quantity(text, Unit::kTime).has_value()) << text;
}

TEST(Units, WhatIsWrittenReadsBackTheSame) {
  EXPECT_EQ(write_duration(milliseconds(20)), "20 ms");
  EXPECT_EQ(write_quantity(4'700'000, Unit::kResistance), "4.7 kohm");
  EXPECT_TRUE(rc::check("units round trip", [] {
    const Unit unit =
        *rc::gen::element(Unit::kTime, Unit::kVoltage, Unit::kResistance, Unit::kCurrent,
                          Unit::kLength, Unit::kFrequency, Unit::kShare);
    constexpr std::int64_t kMost = std::int64_t{1} << 61;
    const auto value = *rc::gen::oneOf(rc::gen::inRange<std::int64_t>(-kMost, kMost),
                                       rc::gen::inRange<std::int64_t>(-100'000, 100'000));
    RC_ASSERT(parse_quantity(write_quantity(value, unit), unit) == value);
  }));
}

TEST(Units, RatiosScaleDownwardsAlsoBelowZero) {
  EXPECT_EQ(scaled(7, {1, 2}), 3);
  EXPECT_EQ(scaled(-7, {1, 2}), -4);
  EXPECT_EQ(scaled(std::int64_t{1} << 62, {3, 4}), (std::int64_t{3} << 60));
}

TEST(Time, TheGridFindsTheFirstBeatNotBefore) {
  EXPECT_EQ(grid_at_or_after(Instant{10}, Instant{0}, nanoseconds(5)).ns, 10);
  EXPECT_EQ(grid_at_or_after(Instant{11}, Instant{0}, nanoseconds(5)).ns, 15);
  EXPECT_EQ(grid_at_or_after(Instant{11}, Instant{3}, nanoseconds(5)).ns, 13);
}

TEST(Text, BytesBecomePrintable) {
  EXPECT_EQ(printable("a\n\\\x01\xff"), "a\\n\\\\\\x01\\xff");
}

TEST(Text, TheNearestWordIsTheOneWithFewestEdits) {
  const std::vector<std::string> words = {"power", "heater", "bell"};
  EXPECT_EQ(nearest_word("powr", words), "power");
  EXPECT_EQ(nearest_word("BEL", words), "bell");
  EXPECT_EQ(nearest_word("sander", words), "");
}

// RFC 3629: no overlong forms, no surrogates, nothing beyond U+10FFFF.
TEST(Text, OnlyWellFormedUtf8IsValid) {
  EXPECT_TRUE(is_valid_utf8("caf\xc3\xa9 \xe2\x82\xac \xf0\x9f\x9a\x8b"));
  for (const char* bad : {"\xc0\x80", "\xe0\x80\x80", "\xed\xa0\x80", "\xf4\x90\x80\x80", "\x80",
                          "\xc3", "\xe2\x82", "\xff"})
    EXPECT_FALSE(is_valid_utf8(bad));
}

}  // namespace
}  // namespace understudy
