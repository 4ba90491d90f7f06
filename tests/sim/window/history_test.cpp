// What the window keeps of a session, and what numbers mean in words.
#include "sim/window/history.h"

#include <gtest/gtest.h>

#include "tests/sim/device/device_bench.h"

namespace understudy {
namespace {

SessionView view_of(const DeviceBench& bench, const std::shared_ptr<const Panel>& panel) {
  SessionView view;
  view.now = bench.now();
  view.seats.push_back({.name = "tram",
                        .path = "tram.panel.toml",
                        .device = bench.device(),
                        .observer = Observer(panel),
                        .links = {}});
  return view;
}

const FieldCourse& course_of(SeatHistory& seat, std::string_view name) {
  for (const FieldCourse& course : seat.courses)
    if (course.name == name) return course;
  return seat.courses.front();
}

TEST(History, ValuesComeFromLinesAndFromTheBoardWhereNobodyListens) {
  const auto panel = tram_panel();
  DeviceBench bench(panel);
  History history;
  bench.run_until(at_ms(3'000));
  history.take(view_of(bench, panel), {});
  const std::int64_t at_rest = bench.device().field_number(0);
  EXPECT_EQ(course_of(history.seat(0), "power").course.newest(), at_rest);
  bench.open();
  bench.run_until(at_ms(3'010));
  FeedPortion portion;
  portion.items.push_back({at_ms(3'005), 0, FedBytes{true, "77,300,1,0,1\n"}});
  history.take(view_of(bench, panel), std::move(portion));
  EXPECT_EQ(course_of(history.seat(0), "power").course.newest(), 77);
  EXPECT_EQ(course_of(history.seat(0), "sander").course.newest(), 1);
}

TEST(History, ChangesOfOutputsGoToTheirCourse) {
  const auto panel = tram_panel();
  DeviceBench bench(panel);
  History history;
  bench.run_until(at_ms(10));
  FeedPortion portion;
  portion.items.push_back({at_ms(5), 0, FedChange{{at_ms(5), 1, 200, 0}}});
  history.take(view_of(bench, panel), std::move(portion));
  EXPECT_EQ(course_of(history.seat(0), "signal_amber").course.newest(), 200);
  EXPECT_EQ(course_of(history.seat(0), "signal_red").course.newest(), 0);
}

TEST(History, CountsRestartsAndSaysTheSameWordOnceWithItsNumberOfTimes) {
  const auto panel = tram_panel();
  DeviceBench bench(panel);
  History history;
  bench.run_until(at_ms(10));
  FeedPortion portion;
  portion.items.push_back({Instant{}, 0, FedNote{{Instant{}, NoteKind::kRestarted, 0}}});
  portion.items.push_back({at_ms(2), 0, FedNote{{at_ms(2), NoteKind::kBrownedOut, 510'000}}});
  portion.items.push_back({at_ms(2), 0, FedNote{{at_ms(2), NoteKind::kRestarted, 1'500'000'000}}});
  portion.items.push_back({at_ms(3), 0, FedWord{"a remark"}});
  portion.items.push_back({at_ms(4), 0, FedWord{"a remark"}});
  history.take(view_of(bench, panel), std::move(portion));
  EXPECT_EQ(history.seat(0).restarts, 1);
  EXPECT_EQ(history.seat(0).brown_outs, 1);
  ASSERT_EQ(history.words().size(), 3U);
  EXPECT_EQ(history.words()[0].text, "the supply gave way at 510 mA, and the board starts anew");
  EXPECT_EQ(history.words()[2].times, 2);
}

TEST(ValueWords, APotIsCountsVoltsAtThePinAndShareOfItsTravel) {
  // 512 of 1023 at 5 V: 2.502 V (ideal converter, worked out by hand).
  const ValueWords words = value_words(*tram_panel(), {.to_game = true, .field = 0}, 512);
  EXPECT_EQ(words.together(), "512, 2.50 V, 50 %");
}

TEST(ValueWords, APullUpButtonThatIsDownPullsItsPinToGround) {
  EXPECT_EQ(value_words(*tram_panel(), {.to_game = true, .field = 2}, 1).together(), "1, 0.00 V");
  EXPECT_EQ(value_words(*tram_panel(), {.to_game = true, .field = 2}, 0).together(), "0, 5.00 V");
  EXPECT_TRUE(has_two_levels(*tram_panel(), {.to_game = true, .field = 2}));
}

TEST(ValueWords, ALampIsItsNumberMeanVoltsAndShareOfFull) {
  EXPECT_EQ(value_words(*tram_panel(), {.to_game = false, .field = 0}, 255).together(),
            "255, 5.00 V, 100 %");
  EXPECT_EQ(value_words(*tram_panel(), {.to_game = false, .field = 5}, 130).together(), "130");
}

}  // namespace
}  // namespace understudy
