// Drawing without a display, and a sheet with all of our type and widgets to look at: it is left as
// type_sheet.png in the test's folder of the build tree.
#include "sim/window/offscreen.h"

#include <gtest/gtest.h>

#include "sim/window/style.h"

namespace understudy {
namespace {

void draw_type(const Typefaces& type) {
  ImGui::PushFont(type.heading);
  ImGui::TextUnformatted("Traffic");
  ImGui::PopFont();
  ImGui::TextUnformatted("The game is connected by pty, 50 lines/s");
  ImGui::TextUnformatted(
      "Fahrstra\xC3\x9F"
      "e \xC5\xBBuraw \xCE\xA9 \xCE\xBB "
      "\xD0\xA2\xD1\x80\xD0\xB0\xD0\xBC\xD0\xB2\xD0\xB0\xD0\xB9 "
      "5 \xC2\xB5s \xE2\x89\xA4 10 \xE2\x86\x92 \xE2\x88\x9E");
  ImGui::PushFont(type.small);
  ImGui::TextUnformatted("20 mA of 40 mA, legends of charts");
  ImGui::PopFont();
  ImGui::PushFont(type.typed);
  ImGui::TextUnformatted("512,300,1,0,1");
  ImGui::TextUnformatted("\xD0\xB1,\xE2\x90\x8A 0123456789");
  ImGui::PopFont();
}

void draw_widgets() {
  static bool ticked = true;
  static float share = 0.4F;
  static char words[32] = "only power";
  static int chosen = 1;
  ImGui::Button("Restart the game");
  ImGui::SameLine();
  ImGui::Checkbox("Pause", &ticked);
  ImGui::SliderFloat("Share", &share, 0, 1, "%.2f");
  ImGui::InputText("Filter", words, sizeof words);
  ImGui::Combo("Span", &chosen, "10 s\0001 min\00010 min\0");
  ImGui::Selectable("A row that is chosen", true);
}

TEST(Offscreen, TheTypeSheetHasInkOnItAndComesOutTheSameTwice) {
  const auto sheet = [] {
    Offscreen offscreen({.width = 720, .height = 480});
    Bitmap seen;
    for (int i = 0; i < 3; ++i) {
      seen = offscreen.draw([&] {
        Offscreen::card("Type", {20, 20}, {330, 440}, [&] { draw_type(offscreen.type()); });
        Offscreen::card("Widgets", {370, 20}, {330, 440}, draw_widgets);
      });
    }
    return seen;
  };
  const Bitmap once = sheet();
  EXPECT_EQ(once.rgba, sheet().rgba);
  std::size_t dark = 0;
  for (std::size_t i = 0; i < once.rgba.size(); i += 4) dark += once.rgba[i] < 90 ? 1 : 0;
  EXPECT_GT(dark, 2'000U);
  const Result<Done> written = write_png(once, "type_sheet.png");
  EXPECT_TRUE(written.ok());
}

TEST(Offscreen, APictureThatCannotBeWrittenIsToldWithItsPath) {
  const Result<Done> written = write_png(Bitmap(2, 2), "no/such/folder/seen.png");
  ASSERT_FALSE(written.ok());
  EXPECT_NE(written.error().text.find("no/such/folder/seen.png"), std::string::npos);
}

}  // namespace
}  // namespace understudy
