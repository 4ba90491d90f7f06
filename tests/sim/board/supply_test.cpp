// When the supply gives way. The worked example is in tests/reference/.
#include "sim/board/supply.h"

#include <gtest/gtest.h>

#include <vector>

#include "sim/base/fingerprint.h"
#include "sim/base/random.h"

namespace understudy {
namespace {

// 5 V through 2 ohm: 4.3 V at 350 mA.
BoardDescription weak_cable() {
  BoardDescription board;
  board.supply_uv = 5'000'000;
  board.supply_limit_ua = 500'000;
  board.supply_resistance_mohm = 2'000;
  board.brown_out_uv = 4'300'000;
  board.brown_out_after = milliseconds(10);
  return board;
}

constexpr Instant kStart{1'000'000'000};

TEST(Supply, TheVoltageFollowsTheLoadAndComesBack) {
  const BoardDescription board = weak_cable();
  Supply supply(board, 45'000);
  EXPECT_EQ(supply.voltage_uv(), 4'910'000);
  supply.set_load(kStart, 300'000, board);
  EXPECT_EQ(supply.voltage_uv(), 4'400'000);
  EXPECT_EQ(supply.sag_uv(board), 600'000);
  EXPECT_EQ(supply.next_due(), kNever);
  supply.set_load(kStart + milliseconds(1), 0, board);
  EXPECT_EQ(supply.voltage_uv(), 5'000'000);
}

TEST(Supply, GivesUpWhenItWasLowForSoLongAndNotBefore) {
  const BoardDescription board = weak_cable();
  Supply supply(board, 45'000);
  supply.set_load(kStart, 351'000, board);
  EXPECT_EQ(supply.next_due(), kStart + milliseconds(10));
  EXPECT_FALSE(supply.happened(kStart + milliseconds(10) - Duration{1}));
  EXPECT_TRUE(supply.happened(kStart + milliseconds(10)));
}

TEST(Supply, AShortDipIsForgotten) {
  const BoardDescription board = weak_cable();
  Supply supply(board, 45'000);
  supply.set_load(kStart, 400'000, board);
  supply.set_load(kStart + milliseconds(9), 350'000, board);  // exactly the threshold
  EXPECT_EQ(supply.next_due(), kNever);
  supply.set_load(kStart + milliseconds(11), 400'000, board);
  EXPECT_EQ(supply.next_due(), kStart + milliseconds(21));
}

TEST(Supply, MoreLoadWhileItIsLowDoesNotBeginAnew) {
  const BoardDescription board = weak_cable();
  Supply supply(board, 45'000);
  supply.set_load(kStart, 400'000, board);
  for (int i = 1; i < 10; ++i)
    supply.set_load(kStart + milliseconds(i), 400'000 + 1'000 * i, board);
  EXPECT_EQ(supply.next_due(), kStart + milliseconds(10));
}

TEST(Supply, OnceGivenUpOnlyARestartHelps) {
  const BoardDescription board = weak_cable();
  Supply supply(board, 45'000);
  supply.set_load(kStart, 400'000, board);
  const Instant due = supply.next_due();
  supply.set_load(due, 45'000, board);
  EXPECT_TRUE(supply.happened(due));
  supply.restart(due, 45'000, board);
  EXPECT_FALSE(supply.happened(due + seconds(100)));
  EXPECT_EQ(supply.voltage_uv(), 4'910'000);
}

TEST(Supply, ALoadThatStaysRestartsTheBoardAgainAndAgain) {
  const BoardDescription board = weak_cable();
  Supply supply(board, 400'000);
  EXPECT_EQ(supply.next_due(), Instant{} + milliseconds(10));
  supply.restart(supply.next_due(), 400'000, board);
  EXPECT_EQ(supply.next_due(), Instant{} + milliseconds(20));
}

TEST(Supply, AboveWhatThePortGivesItsVoltageFoldsEvenWithoutACable) {
  BoardDescription board = weak_cable();
  board.supply_resistance_mohm = 0;
  EXPECT_EQ(voltage_at_chip_uv(board, 500'000), 5'000'000);
  EXPECT_EQ(voltage_at_chip_uv(board, 625'000), 4'000'000);
  EXPECT_EQ(voltage_at_chip_uv(board, 1'000'000), 2'500'000);
  std::int64_t last = 5'000'001;
  for (std::int64_t load = 0; load < 2'000'000; load += 12'345) {
    ASSERT_LE(voltage_at_chip_uv(board, load), last);
    last = voltage_at_chip_uv(board, load);
  }
}

TEST(Supply, ALoadAboveThePortsRestartsTheBoardWhateverTheVoltage) {
  BoardDescription board = weak_cable();
  board.brown_out_uv = 1'800'000;
  EXPECT_FALSE(gives_way(board, 500'000));
  EXPECT_TRUE(gives_way(board, 500'001));
}

TEST(Supply, AChipWithoutBrownOutDetectionNeverRestarts) {
  BoardDescription board = weak_cable();
  board.brown_out_uv = 0;
  Supply supply(board, 5'000'000);
  EXPECT_EQ(supply.next_due(), kNever);
  EXPECT_EQ(supply.voltage_uv(), 0);  // never below nothing
}

// The split law: told of a load twice, or asked in between, it gives up at the same time.
TEST(Supply, BeingToldTheSameAgainChangesNothing) {
  const BoardDescription board = weak_cable();
  Stream chance(11, "loads");
  Supply once(board, 0);
  Supply often(board, 0);
  Instant t{};
  int brown_outs = 0;
  for (int i = 0; i < 2'000; ++i) {
    const auto load = static_cast<std::int64_t>(chance.bits() % 520'000);
    once.set_load(t, load, board);
    often.set_load(t, load, board);
    for (int k = 1; k < 5; ++k) {
      if (often.happened(t + milliseconds(k))) break;
      often.set_load(t + milliseconds(k), load, board);
    }
    t = t + milliseconds(5);
    ASSERT_EQ(once.next_due(), often.next_due());
    Fingerprint a;
    Fingerprint b;
    once.add_to(a);
    often.add_to(b);
    ASSERT_EQ(a.value(), b.value());
    if (!once.happened(t)) continue;
    ++brown_outs;
    once.restart(t, 0, board);
    often.restart(t, 0, board);
  }
  EXPECT_GT(brown_outs, 20);
}

}  // namespace
}  // namespace understudy
