// Comparisons of performances whose latencies are known because they were made by hand.
#include "sim/record/compare.h"

#include <gtest/gtest.h>

namespace understudy {
namespace {

Instant at_ms(double ms) {
  return {static_cast<std::int64_t>(ms * 1e6)};
}

// A desk with a bell and a lamp, played for 20 s: the bell pressed and let go every second from 2 s
// on; the lamp follows after `latency`.
struct Evening {
  Duration latency = milliseconds(20);
  Duration begins = seconds(2);
  int presses = 10;
};

Named evening(const std::string& name, const Evening& how) {
  Performance performance;
  performance.seats = {"desk"};
  performance.controls = {{"bell (button)"}};
  performance.outputs = {{0, "ding"}, {0, "glow"}};
  performance.opened = at_ms(100);
  for (int i = 0; i < how.presses; ++i) {
    const Instant press = Instant{} + how.begins + seconds(i);
    performance.deeds.push_back({press, 0, "bell pressed", {"bell"}});
    performance.deeds.push_back({press + milliseconds(300), 0, "bell let go", {"bell"}});
    performance.changes.push_back({press + how.latency, 0, 255});
    performance.changes.push_back({press + milliseconds(300) + how.latency, 0, 0});
  }
  performance.end = Instant{} + how.begins + seconds(20);
  performance.complete = true;
  return {name, performance};
}

Comparison compared(const Named& a, const Named& b, const CompareOptions& options = {}) {
  const auto result = compare(a, b, options);
  EXPECT_TRUE(result.ok()) << (result.ok() ? "" : result.error().text);
  return result.ok() ? result.value() : Comparison{};
}

std::string error_of(const Named& a, const Named& b, const CompareOptions& options = {}) {
  const auto result = compare(a, b, options);
  return result.ok() ? "none" : result.error().text;
}

TEST(Compare, EachAnswersLatencyIsCountedFromItsHand) {
  const Named a = evening("a", {.latency = milliseconds(20)});
  const Named b = evening("b", {.latency = milliseconds(45), .begins = seconds(5)});
  const Comparison comparison = compared(a, b);
  EXPECT_EQ(comparison.zero_a, at_ms(2'000));
  EXPECT_EQ(comparison.zero_b, at_ms(5'000));
  ASSERT_EQ(comparison.rows.size(), 20u);
  for (const AnswerRow& row : comparison.rows) {
    EXPECT_EQ(row.kind, AnswerKind::kAlike);
    EXPECT_EQ(row.a, milliseconds(20));
    EXPECT_EQ(row.b, milliseconds(45));
  }
  EXPECT_EQ(comparison.median, milliseconds(25));
  EXPECT_EQ(comparison.worst, milliseconds(25));
  EXPECT_FALSE(comparison.first.has_value());
}

TEST(Compare, TheToleranceDecidesAndItsEdgeIsWithin) {
  const Named a = evening("a", {.latency = milliseconds(20)});
  const Named b = evening("b", {.latency = milliseconds(70)});
  EXPECT_EQ(compared(a, b).unlike(), 0);
  EXPECT_EQ(compared(a, b, {.tolerance = milliseconds(49)}).count(AnswerKind::kLater), 20);
  EXPECT_EQ(compared(b, a, {.tolerance = milliseconds(49)}).count(AnswerKind::kEarlier), 20);
}

// The answer to the press comes when the hand has let go already: it is still the press's.
TEST(Compare, ASlowAnswerStaysWithTheHandThatTheQuickOneAnswers) {
  const Named a = evening("a", {.latency = milliseconds(20)});
  const Named b = evening("b", {.latency = milliseconds(600)});
  const Comparison comparison = compared(a, b);
  EXPECT_EQ(comparison.count(AnswerKind::kLater), 20);
  EXPECT_EQ(comparison.worst, milliseconds(580));
  EXPECT_EQ(first_difference(comparison, a, b),
            "at 0.020000 s, after 'bell pressed', seat desk: ding is set to 255 after 20.0 ms in a "
            "and after 600.0 ms in b (+580.0 ms)");
  EXPECT_EQ(compared(b, a).count(AnswerKind::kEarlier), 20);
  EXPECT_EQ(compared(b, a).worst, milliseconds(-580));
}

TEST(Compare, WhatIsMissingExtraOrAnotherNumberIsSaidInWords) {
  const Named a = evening("a", {});
  Named b = a;
  b.name = "b";
  auto& changes = b.performance.changes;
  changes.erase(changes.begin() + 4, changes.begin() + 6);
  Comparison comparison = compared(a, b);
  EXPECT_EQ(comparison.count(AnswerKind::kMissing), 2);
  EXPECT_EQ(comparison.unlike(), 2);
  EXPECT_EQ(first_difference(comparison, a, b),
            "at 2.020000 s, after 'bell pressed', seat desk: ding is set to 255 after 20.0 ms in a "
            "and not in b");
  comparison = compared(b, a);
  EXPECT_EQ(comparison.count(AnswerKind::kExtra), 2);
  EXPECT_EQ(comparison.unlike(), 2);
  b = a;
  b.name = "b";
  b.performance.changes[6].number = 200;
  comparison = compared(a, b);
  EXPECT_EQ(comparison.count(AnswerKind::kOther), 1);
  EXPECT_EQ(comparison.unlike(), 1);
  EXPECT_EQ(first_difference(comparison, a, b),
            "at 3.020000 s, after 'bell pressed', seat desk: ding is set to 255 in a and to 200 in "
            "b");
}

TEST(Compare, WhatAnOutputShowsAtTheFirstHandCountsButNotWhenItCame) {
  const Named a = evening("a", {});
  Named b = a;
  auto& changes = b.performance.changes;
  changes.insert(changes.begin(), {at_ms(700), 1, 40});
  EXPECT_EQ(compared(a, b).count(AnswerKind::kOther), 1);
  Named c = a;
  c.performance.changes.insert(c.performance.changes.begin(), {at_ms(1'500), 1, 40});
  EXPECT_EQ(compared(b, c).unlike(), 0);
  EXPECT_EQ(compared(b, c, {.align = {.by = AlignBy::kStart}}).count(AnswerKind::kLater), 1);
}

TEST(Compare, ARecordingThatWasCutOffIsComparedUpToThere) {
  const Named a = evening("a", {});
  Named b = evening("b", {.presses = 4});
  b.performance.end = at_ms(5'010);  // before the fourth answer
  b.performance.changes.resize(6);
  b.performance.deeds.resize(7);
  const Comparison comparison = compared(a, b);
  EXPECT_EQ(comparison.rows.size(), 6u);
  EXPECT_EQ(comparison.unlike(), 0);
  ASSERT_EQ(comparison.remarks.size(), 1u);
  EXPECT_EQ(comparison.remarks[0], "a has 20 hands and b has 7: compared are the first 7");
}

TEST(Compare, OnlyTheOutputsThatWereAskedForAreCompared) {
  const Named a = evening("a", {});
  Named b = a;
  b.performance.changes.push_back({at_ms(15'000), 1, 9});
  EXPECT_EQ(compared(a, b).unlike(), 1);
  EXPECT_EQ(compared(a, b, {.outputs = {"ding"}}).unlike(), 0);
  EXPECT_EQ(error_of(a, b, {.outputs = {"dong"}}), "a has no output dong");
}

TEST(Compare, OtherPanelsAndOtherHandsAreRefusedInWords) {
  const Named a = evening("a", {});
  Named b = a;
  b.name = "b";
  b.performance.controls = {{"horn (button)"}};
  EXPECT_EQ(error_of(a, b),
            "seat desk has other controls: only in a: bell (button); only in b: horn (button)");
  b = a;
  b.name = "b";
  b.performance.deeds[3].words = "bell pressed";
  EXPECT_EQ(error_of(a, b),
            "these are not the same hands: the 4. is 'bell let go' at 3.300000 s in a and 'bell "
            "pressed' at 3.300000 s in b");
  b.performance.deeds.clear();
  EXPECT_EQ(error_of(a, b),
            "no hand moves in b, so there is nothing to align by; --align start or opened");
  EXPECT_EQ(error_of(a, a, {.align = {.by = AlignBy::kControl, .control = "horn"}}),
            "no hand moves 'horn' in both, so there is nothing to align by");
}

TEST(Compare, ByAControlWhatLiesBeforeItsFirstMovementIsLeftOut) {
  Named a = evening("a", {});
  a.performance.deeds[4].controls = {"horn"};
  Named b = a;
  b.performance.changes[0].at = b.performance.changes[0].at + milliseconds(200);
  EXPECT_EQ(compared(a, b).unlike(), 1);
  const Comparison later = compared(a, b, {.align = {.by = AlignBy::kControl, .control = "horn"}});
  EXPECT_EQ(later.unlike(), 0);
  EXPECT_EQ(later.zero_a, at_ms(4'000));
  EXPECT_EQ(later.rows.size(), 16u);
}

}  // namespace
}  // namespace understudy
