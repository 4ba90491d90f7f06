// Outputs as they are drawn: a lamp's pixels against its numbers, and the marks of a gauge's scale.
#include <gtest/gtest.h>

#include "sim/panel/panel_file.h"
#include "sim/window/face_parts.h"
#include "sim/window/gauge_scale.h"
#include "sim/window/offscreen.h"

namespace understudy {
namespace {

// IEC 61966-2-1: luminance of the lens's middle half, over all its pixels.
double lens_luminance(const Bitmap& seen) {
  double sum = 0;
  for (int row = 24; row < 40; ++row) {
    for (int column = 24; column < 40; ++column) {
      const auto i = static_cast<std::size_t>(4 * (row * seen.width + column));
      const auto part = [&](std::size_t n) {
        return linear_of(static_cast<float>(seen.rgba[i + n]) / 255);
      };
      sum += 0.2126 * part(0) + 0.7152 * part(1) + 0.0722 * part(2);
    }
  }
  return sum;
}

TEST(DrawnLamp, IsNeverDarkerForAGreaterNumberAndMuchLighterAtTheTop) {
  for (const std::string colour : {"red", "amber", "yellow", "green", "blue", "white"}) {
    const auto panel = parse_panel(
        "panel = \"One lamp\"\n[[output]]\nname = \"lamp\"\nkind = "
        "\"lamp\"\ncolour = \"" +
            colour +
            "\"\n[[control]]\nname = "
            "\"key\"\nkind = \"button\"\n",
        "one.panel.toml");
    ASSERT_TRUE(panel.ok()) << panel.error().text;
    SeatView seat{"one", "one.panel.toml", Device(panel.value(), {}), Observer(panel.value()), {}};
    FacePart part;
    part.id = {.output = true, .index = 0};
    part.output = &panel.value()->description.outputs[0];
    part.body = around({}, 8, 8);
    Offscreen sheet({.width = 64, .height = 64});
    const PartLook& look = look_of(OutputKind::kLamp);
    Canvas plate({-8, -8, 8, 8}, 4);
    look.paint_base(plate, part);
    const ImTextureID base = sheet.textures().keep(plate.bitmap());
    std::vector<KeptSprite> kept;
    for (const Sprite& sprite : look.paint_sprites(part, 4))
      kept.push_back({sheet.textures().keep(sprite.bitmap), sprite.extent});
    StepOutputs outputs;
    std::vector<Input> inputs = {{Instant{} + milliseconds(1), LinkOpened{}}};
    double before = 0;
    double dark = 0;
    for (int number = 0; number <= 255; number += 5) {
      const Instant t = seat.device.now() + seconds(4);
      inputs.push_back({t, BytesFromGame{std::to_string(number) + "\n"}});
      seat.device.step(t + seconds(1), inputs, outputs);
      inputs.clear();
      const PartState state{seat};
      ASSERT_EQ(state.number(part), number);
      const Bitmap seen = sheet.draw([&] {
        ImDrawList& list = *ImGui::GetBackgroundDrawList();
        list.AddImage(base, {0, 0}, {64, 64});
        FaceDrawing drawing(list, {{0, 0, 64, 64}, 4}, sheet.type());
        part.middle = {8, 8};
        drawing.use(kept);
        look.draw_light(drawing, part, state);
        part.middle = {};
      });
      const double now = lens_luminance(seen);
      EXPECT_GE(now, before) << colour << " " << number;
      before = now;
      if (number == 0) dark = now;
    }
    EXPECT_GT(before, 2 * dark) << colour;
  }
}

TEST(GaugeScale, HasItsMainMarksAtRoundNumbersFromEndToEnd) {
  const std::vector<GaugeMark> marks = marks_of({.low = 0, .high = 60});
  std::string written;
  for (const GaugeMark& mark : marks) written += mark.main ? mark.text + " " : "";
  EXPECT_EQ(written, "0 10 20 30 40 50 60 ");
  EXPECT_DOUBLE_EQ(marks.front().share, 0);
  EXPECT_DOUBLE_EQ(marks.back().share, 1);
}

TEST(GaugeScale, WritesDecimalsAsLinesDoAndTurnsWithItsRange) {
  const std::vector<GaugeMark> marks = marks_of({.low = 100, .high = -100, .decimals = 1});
  EXPECT_EQ(marks.front().text, "10");
  EXPECT_EQ(marks.back().text, "-10");
  EXPECT_DOUBLE_EQ(marks.front().share, 0);
}

}  // namespace
}  // namespace understudy
