// Checks against published values: the source stands beside each. How a line carries a check is
// tested in tests/protocol/.
#include "protocol/checks.h"

#include <gtest/gtest.h>

#include <cstdio>

namespace understudy::protocol {
namespace {

// "$GPGGA,...*47" -> whether the digits after * are the check of what stands between $ and *.
// NMEA 0183: exclusive or of all characters between $ and *, both excluded, as two upper-case
// hexadecimal digits, most significant first.
bool sentence_fits(std::string_view sentence) {
  const std::size_t star = sentence.rfind('*');
  char digits[3];
  std::snprintf(digits, sizeof digits, "%02X",
                compute_check(CheckKind::kXor, sentence.substr(1, star - 1)));
  return sentence.substr(star + 1) == digits;
}

TEST(ReferenceChecks, XorIsThatOfNmea0183) {
  // Widely published example of a GGA and an RMC sentence.
  EXPECT_TRUE(sentence_fits("$GPGGA,123519,4807.038,N,01131.000,E,1,08,0.9,545.4,M,46.9,M,,*47"));
  EXPECT_TRUE(
      sentence_fits("$GPRMC,123519,A,4807.038,N,01131.000,E,022.4,084.4,230394,003.1,W*6A"));
  // Captures of receivers: University of Washington, CSE466; serial interface documents.
  EXPECT_TRUE(sentence_fits("$GPRMB,A,,,,,,,,,,,,V*71"));
  EXPECT_TRUE(sentence_fits("$PGRMM,WGS 84*06"));
  EXPECT_TRUE(sentence_fits("$GPRTE,1,1,c,0*07"));
  EXPECT_TRUE(sentence_fits("$PSRF103,00,01,00,01*25"));
}

TEST(ReferenceChecks, XorRefusesTheWrongExamplesThatCirculate) {
  // Often copied with 47.0 for 46.9 but the old check; right is 4F. Likewise HEHDT, right is 22.
  EXPECT_FALSE(sentence_fits("$GPGGA,123519,4807.038,N,01131.000,E,1,08,0.9,545.4,M,47.0,M,,*47"));
  EXPECT_TRUE(sentence_fits("$GPGGA,123519,4807.038,N,01131.000,E,1,08,0.9,545.4,M,47.0,M,,*4F"));
  EXPECT_FALSE(sentence_fits("$HEHDT,178.3,T*1E"));
  EXPECT_TRUE(sentence_fits("$HEHDT,178.3,T*22"));
}

// The catalogue of parametrised CRC algorithms gives for each algorithm the check of the nine
// ASCII bytes 123456789.
TEST(ReferenceChecks, EachCrcGivesTheCheckValueOfTheCatalogue) {
  const std::string_view nine = "123456789";
  EXPECT_EQ(compute_check(CheckKind::kCrc8MaximDow, nine), 0xA1u);
  EXPECT_EQ(compute_check(CheckKind::kCrc16CcittFalse, nine), 0x29B1u);
  EXPECT_EQ(compute_check(CheckKind::kCrc16Xmodem, nine), 0x31C3u);
  EXPECT_EQ(compute_check(CheckKind::kCrc16Kermit, nine), 0x2189u);
  EXPECT_EQ(compute_check(CheckKind::kCrc16Modbus, nine), 0x4B37u);
  EXPECT_EQ(compute_check(CheckKind::kCrc32, nine), 0xCBF43926u);
}

TEST(ReferenceChecks, Crc8MaximDowGivesTheRomCodesOfTheNotes) {
  // Application note 27 of the 1-wire makers, example 2: ROM code 02 1C B8 01 00 00 00, CRC A2.
  const std::string_view rom("\x02\x1C\xB8\x01\x00\x00\x00\xA2", 8);
  EXPECT_EQ(compute_check(CheckKind::kCrc8MaximDow, rom.substr(0, 7)), 0xA2u);
  // And over data and CRC together nothing is left.
  EXPECT_EQ(compute_check(CheckKind::kCrc8MaximDow, rom), 0x00u);
  // A second worked example, from a page on the Dallas/Maxim CRC.
  EXPECT_EQ(compute_check(CheckKind::kCrc8MaximDow, "\x12\x12\xA2\x14\x5F\x12\xAA\x12"), 0x6Du);
}

TEST(ReferenceChecks, InPiecesIsTheSameAsInOneGo) {
  const std::string_view nine = "123456789";
  for (int number = 0; number < kCheckKindCount; ++number) {
    const auto kind = static_cast<CheckKind>(number);
    for (std::size_t cut = 0; cut <= nine.size(); ++cut) {
      std::uint32_t state = begin_check(kind);
      state = add_to_check(kind, state, nine.substr(0, cut));
      state = add_to_check(kind, state, nine.substr(cut));
      EXPECT_EQ(finish_check(kind, state), compute_check(kind, nine)) << check_name(kind);
    }
  }
}

TEST(ReferenceChecks, EachKindIsFoundByItsName) {
  for (int number = 0; number < kCheckKindCount; ++number) {
    const auto kind = static_cast<CheckKind>(number);
    EXPECT_EQ(find_check(check_name(kind)), kind);
  }
  EXPECT_EQ(find_check("crc-16"), std::nullopt);
}

}  // namespace
}  // namespace understudy::protocol
