// Lines as people read them: kept, filtered, still while they pause, coloured and explained.
#include "sim/window/line_log.h"

#include <gtest/gtest.h>

#include "tests/sim/device/device_bench.h"

namespace understudy {
namespace {

TEST(LineLog, PutsLinesOfBothWaysDownInTheOrderOfTheirEnds) {
  LineLog log(tram_panel());
  log.event({at_ms(1), LinkOpened{}});
  log.to_game(at_ms(10), "tram-desk 1\n512,300,");
  log.to_panel(at_ms(12), "255,0,0,90,34,130\n");
  log.to_game(at_ms(14), "0,0,1\n");
  ASSERT_EQ(log.shown(), 3U);
  EXPECT_EQ(log.line(0).text, "tram-desk 1");
  EXPECT_EQ(log.line(0).sort, LineSort::kSaid);
  EXPECT_FALSE(log.line(1).to_game);
  EXPECT_EQ(log.line(2).text, "512,300,0,0,1");
  EXPECT_EQ(log.line(2).at, at_ms(14));
  EXPECT_EQ(copied(log.line(1)), "0:00.012  to panel  255,0,0,90,34,130");
}

TEST(LineLog, PlacesOfFieldsAreTheirBytes) {
  LineLog log(tram_panel());
  log.to_game(at_ms(1), "512,7,0,1,0\n");
  const std::vector<protocol::LinePlace> wanted = {
      {0, 3, 0}, {4, 1, 1}, {6, 1, 2}, {8, 1, 3}, {10, 1, 4}};
  EXPECT_EQ(places_of(log.line(0)), wanted);
}

TEST(LineLog, PlacesAreFoundInEveryNotation) {
  const auto panel = panel_of(R"(
panel = "All"
[[control]]
name = "a"
kind = "pot"
sends = [0, 255]
[[control]]
name = "b"
kind = "button"
sends = ["up", "down"]
[[line]]
to = "game"
text = "<{a:2x}|{#sequence:3}|{b}>"
)");
  LineLog log(panel);
  log.to_game(at_ms(1), "<0f|007|down>\n");
  ASSERT_EQ(log.line(0).sort, LineSort::kRead);
  const std::vector<protocol::LinePlace> wanted = {
      {1, 2, 0}, {4, 3, protocol::kNoField}, {8, 4, 1}};
  EXPECT_EQ(places_of(log.line(0)), wanted);
}

TEST(LineLog, AMalformedLineIsExplainedAtItsPlaceAndKeepsTheFieldsBeforeIt) {
  LineLog log(tram_panel());
  log.to_game(at_ms(1), "512,x00,0,1,0\n");
  ASSERT_TRUE(log.line(0).malformed());
  const auto trouble = trouble_of(log.line(0));
  ASSERT_TRUE(trouble);
  EXPECT_EQ(trouble->first_byte, 4U);
  EXPECT_EQ(trouble->bytes, 3U);
  EXPECT_NE(trouble->sentence.find("heater"), std::string::npos) << trouble->sentence;
  EXPECT_EQ(places_of(log.line(0)).size(), 1U);
  log.to_game(at_ms(2), "512,300,0,1,0\n");
  EXPECT_FALSE(trouble_of(log.line(1)));
  ASSERT_EQ(log.rows(), 3U);
  EXPECT_TRUE(log.row(1).beneath);
  EXPECT_EQ(&log.row(1).line, &log.line(0));
}

TEST(LineLog, AWitnessLineOfTheGameIsNoOddLine) {
  LineLog log(tram_panel());
  log.event({at_ms(1), LinkOpened{}});
  log.to_panel(at_ms(2), "#seen 12 0 driving 512 1\n");
  ASSERT_EQ(log.shown(), 1U);
  EXPECT_FALSE(log.line(0).malformed());
  EXPECT_EQ(log.line(0).text, "#seen 12 0 driving 512 1");
}

TEST(LineLog, TheOldestGoBeyondTwentyThousandAndWhatIsShownStaysRight) {
  LineLog log(tram_panel());
  log.set_filter({.to_game = true, .to_panel = false});
  for (int i = 0; i < 15'000; ++i) {
    log.to_game(at_ms(i), std::to_string(i % 1'000) + ",1,0,0,0\n");
    log.to_panel(at_ms(i), "1,2,3,4,5,6\n");
  }
  EXPECT_EQ(log.put_down(), 30'000U);
  ASSERT_EQ(log.shown(), kLinesMax / 2);
  EXPECT_EQ(log.rows(), kLinesMax / 2);
  EXPECT_EQ(log.line(0).number, 10'000U);
  EXPECT_EQ(log.line(0).at, at_ms(5'000));
  EXPECT_EQ(log.line(log.shown() - 1).at, at_ms(14'999));
}

TEST(LineLog, WhileItPausesNothingMovesAndAFilterStillWorks) {
  LineLog log(tram_panel());
  for (int i = 0; i < 10; ++i) log.to_game(at_ms(i), std::to_string(i) + ",1,0,0,0\n");
  log.pause(true);
  for (int i = 0; i < 30'000; ++i) log.to_panel(at_ms(20), "1,2,3,4,5,6\n");
  EXPECT_EQ(log.shown(), 10U);
  EXPECT_EQ(log.line(9).text, "9,1,0,0,0");
  log.set_filter({.contains = "3,1"});
  ASSERT_EQ(log.shown(), 1U);
  EXPECT_EQ(log.line(0).text, "3,1,0,0,0");
  log.set_filter({});
  log.pause(false);
  EXPECT_EQ(log.shown(), kLinesMax);
}

TEST(LineLog, FiltersByDirectionFaultAndText) {
  LineLog log(tram_panel());
  log.to_game(at_ms(1), "1,1,0,0,0\nBooting\n");
  log.to_panel(at_ms(2), "1,2\n");
  log.set_filter({.malformed_only = true});
  EXPECT_EQ(log.shown(), 2U);
  log.set_filter({.to_panel = false, .malformed_only = true});
  EXPECT_EQ(log.shown(), 1U);
  log.set_filter({.contains = "bOOT"});
  ASSERT_EQ(log.shown(), 1U);
  EXPECT_EQ(log.line(0).text, "Booting");
}

TEST(LineLog, AnUnfinishedLineIsShownAsSuchUntilThePortIsOpenedAnew) {
  LineLog log(tram_panel());
  log.event({at_ms(1), LinkOpened{}});
  log.to_panel(at_ms(5), "255,0");
  EXPECT_EQ(log.unfinished(false), "255,0");
  EXPECT_EQ(log.unfinished_since(false), at_ms(5));
  EXPECT_EQ(log.unfinished_since(true), Instant{-1});
  log.event({at_ms(6), LinkOpened{}});
  EXPECT_EQ(log.unfinished(false), "");
}

TEST(LineLog, LinesStayAsTheyWereReadWhenThePanelChanges) {
  LineLog log(tram_panel());
  log.to_game(at_ms(1), "512,300,0,1,0\n");
  log.begin_anew(panel_of("panel = \"X\"\n[[control]]\nname = \"k\"\nkind = \"pot\"\n"));
  log.to_game(at_ms(2), "512\n");
  EXPECT_EQ(places_of(log.line(0)).size(), 5U);
  EXPECT_EQ(places_of(log.line(1)).size(), 1U);
}

TEST(LineLog, TimesAreWrittenToTheMillisecond) {
  EXPECT_EQ(time_of_line(at_ms(83'456)), "1:23.456");
  EXPECT_EQ(time_of_line(at_ms(3'723'004)), "1:02:03.004");
}

}  // namespace
}  // namespace understudy
