// What the formats of a panel carry and how they are matched.
#include <gtest/gtest.h>

#include <array>

#include "tests/sim/panel/panel_text.h"

namespace understudy {
namespace {

std::shared_ptr<const Panel> compiled(const std::string& text) {
  auto panel = parse_panel(text, "x.panel.toml");
  EXPECT_TRUE(panel.ok()) << (panel.ok() ? "" : panel.error().text);
  return panel.ok() ? panel.value() : nullptr;
}

TEST(PanelCompile, FieldsSpanBothEndsWhicheverWayRound) {
  const auto panel = compiled(with_two_controls(
      "sends = [1, 0]\n[[control]]\nname = \"c\"\nkind = \"pot\"\ndecimals = 2\nsends = [1, -1]\n"
      "[[control]]\nname = \"d\"\nkind = \"switch\"\nsends = [\"OFF\", \"ON\"]\n"));
  ASSERT_NE(panel, nullptr);
  const auto& fields = panel->to_game_fields;
  ASSERT_EQ(fields.size(), 4U);
  EXPECT_EQ(fields[1].min, 0);
  EXPECT_EQ(fields[1].max, 1);
  EXPECT_EQ(fields[2].min, -100);
  EXPECT_EQ(fields[2].max, 100);
  EXPECT_EQ(fields[2].decimals, 2);
  EXPECT_EQ(fields[3].words, (std::vector<std::string>{"OFF", "ON"}));
  EXPECT_EQ(panel->to_game_sources[3].part_of, 3);
  std::array<std::int64_t, 4> values{};
  ASSERT_TRUE(panel->to_game.match("512,1,-0.25,ON", values).ok());
  EXPECT_EQ(values, (std::array<std::int64_t, 4>{512, 1, -25, 1}));
}

TEST(PanelCompile, EachMakesOneFormatForEachNameWithItsNumber) {
  const auto panel = compiled(
      with_two_controls("[to_game]\nends = \"$\"\n[[line]]\nto = \"game\"\ntext = "
                        "\"@{#id}/{#value}\"\neach = [\"b\", "
                        "\"a\"]\nids = [90, 91]\nsend = { on_change = 1, refresh = \"1 s\" }\n"));
  ASSERT_NE(panel, nullptr);
  ASSERT_EQ(panel->to_game.size(), 2U);
  ASSERT_EQ(panel->game_formats.size(), 2U);
  EXPECT_EQ(panel->game_formats[0].control, 1);
  EXPECT_EQ(panel->game_formats[1].control, 0);
  EXPECT_EQ(panel->game_formats[1].send.mode, SendMode::kOnChange);
  EXPECT_EQ(panel->game_formats[1].send.refresh, seconds(1));
  EXPECT_EQ(panel->to_game.classify("@91/1023"), 1);
  EXPECT_EQ(panel->to_game.classify("@90/1"), 0);
  EXPECT_EQ(panel->to_game.classify("@90/2"), protocol::kUnknownLine);
  EXPECT_EQ(panel->to_game_framing.ends, "$");
}

TEST(PanelCompile, ACheckStandsBehindTheText) {
  // The sentence and its check are NMEA 0183's, as makers of receivers quote it.
  const auto panel = compiled(
      "panel = \"X\"\n[to_game]\nstarts = \"$\"\nends = \"\\r\\n\"\n[[control]]\nname = \"a\"\n"
      "kind = \"pot\"\n[[line]]\nto = \"game\"\ntext = \"GPRTE,{a},1,c,0\"\ncheck = { kind = "
      "\"xor\" }\n");
  ASSERT_NE(panel, nullptr);
  EXPECT_EQ(panel->to_game.classify("GPRTE,1,1,c,0*07"), 0);
  std::array<std::int64_t, 1> values{};
  EXPECT_FALSE(panel->to_game.match("GPRTE,1,1,c,0*08", values).ok());
}

TEST(PanelCompile, LampsMayTakeWords) {
  const auto panel = compiled(with_two_controls(
      "[[output]]\nname = \"red\"\nkind = \"lamp\"\ntakes = [\"OFF\", \"DIM\", \"FULL\"]\n"));
  ASSERT_NE(panel, nullptr);
  EXPECT_EQ(panel->description.outputs[0].sends.high, 2);
  EXPECT_EQ(panel->to_panel.classify("DIM"), 0);
  EXPECT_EQ(panel->to_panel.classify("255"), protocol::kUnknownLine);
}

}  // namespace
}  // namespace understudy
