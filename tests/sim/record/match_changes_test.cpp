// The pairing of two lists of changes, against the whole table of an edit distance worked out
// without any band (Needleman and Wunsch 1970, https://doi.org/10.1016/0022-2836(70)90057-4).
#include "sim/record/match_changes.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cstdlib>

#include "sim/base/random.h"

namespace understudy {
namespace {

constexpr std::int64_t kImpossible = std::int64_t{1} << 60;

std::int64_t cost_of_pair(const TimedNumber& a, const TimedNumber& b) {
  if (b.at < a.since) return kImpossible;
  const std::int64_t apart = std::abs((b.at - a.at).ns);
  if (a.number == b.number) return apart <= seconds(2).ns ? apart : kImpossible;
  return apart < seconds(1).ns ? apart + seconds(1).ns : kImpossible;
}

// The least cost, from the whole table.
std::int64_t least_cost(const std::vector<TimedNumber>& a, const std::vector<TimedNumber>& b) {
  std::vector<std::vector<std::int64_t>> table(a.size() + 1,
                                               std::vector<std::int64_t>(b.size() + 1));
  for (std::size_t i = 0; i <= a.size(); ++i)
    for (std::size_t j = 0; j <= b.size(); ++j) {
      if (i == 0 && j == 0) continue;
      std::int64_t best = kImpossible;
      if (i > 0) best = std::min(best, table[i - 1][j] + seconds(1).ns);
      if (j > 0) best = std::min(best, table[i][j - 1] + seconds(1).ns);
      if (i > 0 && j > 0)
        best = std::min(best, table[i - 1][j - 1] + cost_of_pair(a[i - 1], b[j - 1]));
      table[i][j] = best;
    }
  return table[a.size()][b.size()];
}

std::int64_t cost_of(const std::vector<MatchedPair>& pairs, const std::vector<TimedNumber>& a,
                     const std::vector<TimedNumber>& b) {
  std::int64_t cost = 0;
  for (const MatchedPair& pair : pairs)
    cost += pair.a && pair.b ? cost_of_pair(a[*pair.a], b[*pair.b]) : seconds(1).ns;
  return cost;
}

std::vector<TimedNumber> draw(Stream& stream, std::int64_t count) {
  std::vector<TimedNumber> list;
  Instant at;
  for (std::int64_t i = 0; i < count; ++i) {
    at = at + milliseconds(stream.below(1'200));
    list.push_back({at, stream.below(3), at - milliseconds(stream.below(900))});
  }
  return list;
}

TEST(MatchChanges, GivesTheCheapestPairingInOrderAndLeavesNothingOut) {
  Stream stream(11, "lists");
  for (int round = 0; round < 400; ++round) {
    const auto a = draw(stream, stream.below(30));
    const auto b = draw(stream, stream.below(30));
    const auto pairs = match_changes(a, b, Causes::kOfFirst);
    EXPECT_EQ(cost_of(pairs, a, b), least_cost(a, b)) << "round " << round;
    std::size_t next_a = 0;
    std::size_t next_b = 0;
    for (const MatchedPair& pair : pairs) {
      if (pair.a) {
        EXPECT_EQ(*pair.a, next_a++);
      }
      if (pair.b) {
        EXPECT_EQ(*pair.b, next_b++);
      }
    }
    EXPECT_EQ(next_a, a.size());
    EXPECT_EQ(next_b, b.size());
  }
}

TEST(MatchChanges, OneBlinkThatIsMissingMakesNoneAfterItLate) {
  std::vector<TimedNumber> a;
  for (int i = 0; i < 20; ++i) {
    a.push_back({Instant{seconds(i).ns}, 255});
    a.push_back({Instant{(seconds(i) + milliseconds(100)).ns}, 0});
  }
  std::vector<TimedNumber> b = a;
  b.erase(b.begin() + 6, b.begin() + 8);
  std::vector<std::size_t> missing;
  for (const MatchedPair& pair : match_changes(a, b)) {
    ASSERT_TRUE(pair.a.has_value());
    if (!pair.b)
      missing.push_back(*pair.a);
    else
      EXPECT_EQ(a[*pair.a].at, b[*pair.b].at);
  }
  EXPECT_EQ(missing, (std::vector<std::size_t>{6, 7}));
}

// A lamp that is lit for 100 ms once a second, sooner in one than in the other by 600 ms: the
// nearest in time would be the second before.
TEST(MatchChanges, WhatIsSlowerThanHalfTheBeatStaysWithItsOwnBeat) {
  std::vector<TimedNumber> quick;
  std::vector<TimedNumber> slow;
  for (int i = 0; i < 300; ++i) {
    const Instant beat{seconds(i).ns};
    quick.push_back({beat + milliseconds(20), 255, beat});
    quick.push_back({beat + milliseconds(120), 0, beat + milliseconds(100)});
    slow.push_back({beat + milliseconds(620), 255, beat + milliseconds(100)});
    slow.push_back({beat + milliseconds(720), 0, beat + milliseconds(100)});
  }
  for (const MatchedPair& pair : match_changes(quick, slow)) ASSERT_EQ(pair.a, pair.b);
  for (const MatchedPair& pair : match_changes(slow, quick)) ASSERT_EQ(pair.a, pair.b);
}

TEST(MatchChanges, LongListsTakeTimeByWhatIsNearAndNotByTheirSquare) {
  std::vector<TimedNumber> a;
  for (int i = 0; i < 50'000; ++i) a.push_back({Instant{milliseconds(17 * i).ns}, i % 256});
  std::vector<TimedNumber> b = a;
  for (TimedNumber& one : b) one.at = one.at + milliseconds(30);
  for (const MatchedPair& pair : match_changes(a, b)) ASSERT_EQ(pair.a, pair.b);
}

}  // namespace
}  // namespace understudy
