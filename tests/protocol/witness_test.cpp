// Witness lines: what they say, and that they alone are taken out of what a game sends, however the
// bytes come. Not from outside: the format is this project's own.
#include "protocol/witness.h"

#include <gtest/gtest.h>

namespace understudy::protocol {
namespace {

using std::string_view_literals::operator""sv;

std::string rest_of(WitnessSieve& sieve, std::initializer_list<std::string_view> pieces) {
  std::string rest;
  for (const std::string_view piece : pieces) sieve.take(piece, rest);
  return rest;
}

TEST(Witness, SaysAgeBacklogStateAndValues) {
  const auto witness = read_witness("#seen 12 40 driving 512 -1 0.25 1e+07");
  ASSERT_TRUE(witness);
  EXPECT_EQ(witness->age_ms, 12);
  EXPECT_EQ(witness->backlog_bytes, 40);
  EXPECT_EQ(witness->state, "driving");
  EXPECT_EQ(witness->values, (std::vector<double>{512, -1, 0.25, 1e7}));
}

TEST(Witness, MayHaveNoValues) {
  const auto witness = read_witness("#seen 0 0 -");
  ASSERT_TRUE(witness);
  EXPECT_EQ(witness->state, "-");
  EXPECT_TRUE(witness->values.empty());
}

TEST(Witness, ADamagedOneSaysNothing) {
  for (const char* line : {"", "#seen", "#seen ", "#seen 1", "#seen 1 2", "#seen 1 2 ",
                           "#seen x 2 on", "#seen -1 2 on", "#seen 1 2 on 3,5", "#seen 1 2 on x",
                           "#seen  1 2 on", "#seen 1 2 on 3  4", "seen 1 2 on", "10,0,0,0"})
    EXPECT_FALSE(read_witness(line)) << line;
}

TEST(WitnessSieve, LetsAllElsePassByteForByte) {
  WitnessSieve sieve;
  constexpr std::string_view other = "10,0\n#see you\n##\0se#\n\n#seem 1\n#see"sv;
  EXPECT_EQ(rest_of(sieve, {other}), other);
  EXPECT_EQ(sieve.count(), 0U);
}

TEST(WitnessSieve, TakesOutTheLineWithItsEnd) {
  WitnessSieve sieve;
  EXPECT_EQ(rest_of(sieve, {"10,0\n#seen 1 2 on 3\n20,0\n"}), "10,0\n20,0\n");
  EXPECT_EQ(sieve.newest(), "#seen 1 2 on 3");
  EXPECT_EQ(sieve.count(), 1U);
}

TEST(WitnessSieve, FindsItAmongLettersWithoutLines) {
  WitnessSieve sieve;
  EXPECT_EQ(rest_of(sieve, {"ab#seen 1 2 on 3\nc##seen 0 0 -\n"}), "abc#");
  EXPECT_EQ(sieve.count(), 2U);
}

TEST(WitnessSieve, TakesOutALineThatComesInPiecesBehindItsMark) {
  const std::string_view line = "#seen 123 0 in_play 4 5\n";
  for (std::size_t cut = 6; cut <= line.size(); ++cut) {
    WitnessSieve sieve;
    EXPECT_EQ(rest_of(sieve, {line.substr(0, cut), line.substr(cut), "7,8\n"}), "7,8\n") << cut;
    EXPECT_EQ(sieve.newest(), line.substr(0, line.size() - 1));
  }
}

TEST(WitnessSieve, NobodyWaitsForWhatMayBecomeAMark) {
  WitnessSieve sieve;
  EXPECT_EQ(rest_of(sieve, {"#se"}), "#se");
  EXPECT_EQ(rest_of(sieve, {"en 1 2 on\n"}), "");  // it was one after all
  EXPECT_EQ(rest_of(sieve, {"#se", "v"}), "#sev");
  EXPECT_EQ(rest_of(sieve, {"#", "#", "s"}), "##s");
}

TEST(WitnessSieve, SwallowsNoMoreThanALine) {
  WitnessSieve sieve;
  const std::string endless = "#seen " + std::string(5000, 'x');
  EXPECT_GT(rest_of(sieve, {endless}).size(), 3900U);
}

TEST(WitnessSieve, ANewConnectionBeginsAnew) {
  WitnessSieve sieve;
  EXPECT_EQ(rest_of(sieve, {"#seen 1 2"}), "");
  sieve.begin_anew();
  EXPECT_EQ(rest_of(sieve, {"10,0\n"}), "10,0\n");
}

}  // namespace
}  // namespace understudy::protocol
