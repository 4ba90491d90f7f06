// What waits between the window and a session that takes nothing for a while.
#include "sim/window/exchange.h"

#include <gtest/gtest.h>

namespace understudy {
namespace {

HandWish move(std::uint16_t control, std::int32_t to_ppm, Duration length = milliseconds(16)) {
  const HandAction action = {
      .control = control, .to_ppm = to_ppm, .duration = length, .curve = Curve::kLinear};
  return {.hands = {{{}, 0, action}}};
}

HandWish press(std::uint16_t control, std::int32_t to_ppm) {
  return {.hands = {{{}, 0, HandAction{.control = control, .to_ppm = to_ppm}}}};
}

HandAction action_of(const Wish& wish) {
  return std::get<HandWish>(wish).hands.front().action;
}

TEST(ExchangeWishes, ALaterMoveOfTheSamePartStandsInForTheOneBefore) {
  Exchange exchange;
  for (std::int32_t ppm = 0; ppm <= 500'000; ppm += 10) {
    exchange.wish(move(0, ppm));
    exchange.wish(move(1, ppm / 2));
  }
  const std::vector<Wish> taken = exchange.take_wishes();
  ASSERT_EQ(taken.size(), 2U);
  EXPECT_EQ(action_of(taken[0]).to_ppm, 500'000);
  EXPECT_EQ(action_of(taken[1]).to_ppm, 250'000);
  EXPECT_EQ(exchange.take_refused(), 0U);
}

TEST(ExchangeWishes, PressesAllWaitInTheirOrder) {
  Exchange exchange;
  for (int times = 0; times < 200; ++times) {
    exchange.wish(press(0, 1'000'000));
    exchange.wish(move(1, times));
    exchange.wish(press(0, 0));
  }
  const std::vector<Wish> taken = exchange.take_wishes();
  std::vector<std::int32_t> presses;
  for (const Wish& wish : taken)
    if (action_of(wish).control == 0) presses.push_back(action_of(wish).to_ppm);
  ASSERT_EQ(presses.size(), 400U);
  for (std::size_t i = 0; i < presses.size(); ++i)
    EXPECT_EQ(presses[i], i % 2 == 0 ? 1'000'000 : 0) << i;
  EXPECT_EQ(taken.size(), 401U);
}

TEST(ExchangeWishes, NoMoveOvertakesAPressOfItsPartOrAnotherPanel) {
  Exchange exchange;
  exchange.wish(move(0, 1));
  exchange.wish(press(0, 2));
  exchange.wish(move(0, 3));
  exchange.wish(ReloadWish{});
  exchange.wish(move(0, 4));
  HandWish of_another_panel = move(0, 5);
  of_another_panel.seen = std::make_shared<const Panel>();
  exchange.wish(of_another_panel);
  HandWish beside = move(0, 6);  // an encoder's: each adds to the one before
  beside.instead = false;
  exchange.wish(beside);
  exchange.wish(beside);
  EXPECT_EQ(exchange.take_wishes().size(), 8U);
}

TEST(ExchangeWishes, BeyondTheLimitAllButLeavingIsRefusedAndCounted) {
  Exchange exchange;
  for (std::size_t i = 0; i < kWishesMax; ++i)
    ASSERT_TRUE(exchange.wish(press(0, static_cast<std::int32_t>(i))));
  EXPECT_FALSE(exchange.wish(press(0, 0)));
  EXPECT_FALSE(exchange.wish(GameWish{}));
  EXPECT_TRUE(exchange.wish(LeaveWish{}));
  EXPECT_EQ(exchange.take_refused(), 2U);
  EXPECT_EQ(exchange.take_refused(), 0U);
  const std::vector<Wish> taken = exchange.take_wishes();
  ASSERT_EQ(taken.size(), kWishesMax + 1);
  EXPECT_TRUE(std::holds_alternative<LeaveWish>(taken.back()));
  EXPECT_TRUE(exchange.wish(press(0, 0)));
}

}  // namespace
}  // namespace understudy
