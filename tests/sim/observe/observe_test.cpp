// What an onlooker says from bytes and link events alone.
#include <gtest/gtest.h>

#include "sim/observe/observer.h"
#include "sim/observe/rate_window.h"
#include "tests/sim/device/device_bench.h"

namespace understudy {
namespace {

TEST(RateWindow, GivesTheRateOfTheLastTwoSeconds) {
  RateWindow window;
  for (std::int64_t ms = 0; ms < 10'000; ms += 20) window.add(at_ms(ms), 1);
  EXPECT_NEAR(window.per_second(at_ms(10'000)), 50, 0.5);
  EXPECT_NEAR(window.per_second(at_ms(11'000)), 25, 1);
  EXPECT_EQ(window.per_second(at_ms(60'000)), 0);
}

TEST(RateWindow, AFewBytesAfterHoursOfSilenceAreNotAHighRate) {
  RateWindow window;
  window.add(at_ms(0), 1'000'000);
  window.add(at(seconds(36'000)), 10);
  EXPECT_LE(window.per_second(at(seconds(36'001))), 5);
}

Input event(Instant t, decltype(Input::what) what) {
  return {t, std::move(what)};
}

TEST(Observer, TellsKnownLinesFromTalkAndKeepsTheirNumbers) {
  Observer observer(tram_panel());
  observer.event(event(at_ms(1), LinkOpened{}));
  observer.to_game(at_ms(9), "tram-desk 1\n");  // the hello of the panel file
  observer.to_game(at_ms(10), "starting\n512,300,");
  observer.to_game(at_ms(14), "0,0,1\n");
  const Traffic& traffic = observer.traffic_to_game();
  EXPECT_EQ(traffic.counts().known, 2);
  EXPECT_EQ(traffic.counts().unknown, 1);
  EXPECT_EQ(traffic.counts().bytes, 35);
  EXPECT_EQ(traffic.last_unknown(), "starting");
  EXPECT_EQ(traffic.numbers(), (std::vector<std::int64_t>{512, 300, 0, 0, 1}));
  EXPECT_EQ(traffic.last_known_at(), at_ms(14));
}

TEST(Observer, AQuestionOfTheGameIsNoOddLine) {
  Observer observer(panel_of(R"(
panel = "Asked"
[[control]]
name = "knob"
kind = "pot"
[[line]]
to = "game"
text = "{knob}"
send = { asked = "?" }
)"));
  observer.event(event(at_ms(1), LinkOpened{}));
  observer.to_panel(at_ms(2), "?\n?\n!\n");
  EXPECT_EQ(observer.traffic_to_panel().counts().known, 2);
  EXPECT_EQ(observer.traffic_to_panel().counts().unknown, 1);
}

TEST(Observer, SaysWhatIsWrongWithALampLine) {
  Observer observer(tram_panel());
  observer.to_panel(at_ms(1), "0,5,0,25,0\n");
  EXPECT_EQ(observer.traffic_to_panel().counts().unknown, 1);
  const std::string said = observer.traffic_to_panel().explain_last_unknown(tram_panel()->to_panel);
  EXPECT_NE(said.find("expected"), std::string::npos) << said;
}

TEST(Observer, TheAgeIsThatOfTheOldestByteNotTaken) {
  Observer observer(tram_panel());
  observer.event(event(at_ms(1), LinkOpened{}));
  observer.to_game(at_ms(10), "0,0,0,0,0\n");
  observer.to_game(at_ms(30), "0,0,0,0,0\n");
  EXPECT_EQ(observer.input_age(at_ms(50)), milliseconds(40));
  observer.event(event(at_ms(51), Taken{10}));
  EXPECT_EQ(observer.input_age(at_ms(60)), milliseconds(30));
  observer.event(event(at_ms(61), Taken{1'000}));
  EXPECT_EQ(observer.input_age(at_ms(70)), Duration{});
  EXPECT_EQ(observer.unread_bytes(), 0);
}

TEST(Observer, AGameThatNeverReadsForHoursIsRememberedInBoundedMemory) {
  Observer observer(tram_panel());
  observer.event(event(at_ms(1), LinkOpened{}));
  for (std::int64_t i = 1; i <= 100'000; ++i) observer.to_game(at_ms(20 * i), "0,0,0,0,0\n");
  EXPECT_EQ(observer.unread_bytes(), 1'000'000);
  EXPECT_EQ(observer.input_age(at_ms(2'000'000)), milliseconds(2'000'000 - 20));
}

TEST(Observer, WhatWasUnreadIsForgottenWhenThePortCloses) {
  Observer observer(tram_panel());
  observer.event(event(at_ms(1), LinkOpened{}));
  observer.to_game(at_ms(10), "0,0,0,0,0\n0,0");
  observer.event(event(at_ms(20), LinkClosed{}));
  EXPECT_FALSE(observer.connected());
  EXPECT_EQ(observer.unread_bytes(), 0);
  observer.event(event(at_ms(30), LinkOpened{}));
  observer.to_game(at_ms(40), "0,0,0,0,0\n");  // not joined to the half line from before
  EXPECT_EQ(observer.traffic_to_game().counts().known, 2);
  EXPECT_EQ(observer.traffic_to_game().counts().unknown, 0);
  EXPECT_EQ(observer.opened_count(), 2);
}

}  // namespace
}  // namespace understudy
