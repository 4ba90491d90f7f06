// A lamp that a game flashes: what the desk says of it, and how it looks to who wants it calm.
#include <gtest/gtest.h>

#include <algorithm>

#include "sim/panel/panel_file.h"
#include "sim/window/desk.h"
#include "sim/window/offscreen.h"
#include "tests/sim/device/device_bench.h"

namespace understudy {
namespace {

// One lamp in the middle of its plate, shown by a desk in memory.
class Flashing {
 public:
  explicit Flashing(bool calm)
      : panel_(parse_panel("panel = \"One lamp\"\nface = { width_mm = 60, height_mm = 40 }\n"
                           "[[output]]\nname = \"lamp\"\nkind = \"lamp\"\nat_mm = [30, 20]\n"
                           "[[control]]\nname = \"key\"\nkind = \"button\"\nat_mm = [10, 30]\n",
                           "one.panel.toml")
                   .value()),
        bench_(panel_),
        sheet_({.width = 1'280, .height = 720}),
        desk_(sheet_.textures(), remembered_) {
    if (calm) remembered_["face.calm"] = "1";
    bench_.open();
    run(seconds(3));
  }

  void set(int number, Duration length) {
    bench_.send(std::to_string(number) + "\n");
    run(length);
  }

  // IEC 61966-2-1: relative luminance of the pixels around the lamp's middle.
  double seen() {
    DeskState state;
    Bitmap picture;
    for (; frames_to_draw_ > 0; --frames_to_draw_) {
      picture = sheet_.draw([&] {
        desk_.draw({.size = {1'280, 720}, .unit = 1, .type = sheet_.type()}, state);
      });
    }
    frames_to_draw_ = 1;
    double sum = 0;
    const ImVec2 lamp = middle_of_plate();
    for (int row = -4; row < 4; ++row) {
      for (int column = -4; column < 4; ++column) {
        const auto i =
            4 * ((static_cast<std::size_t>(lamp.y) + static_cast<std::size_t>(row + 4)) *
                     static_cast<std::size_t>(picture.width) +
                 static_cast<std::size_t>(lamp.x) + static_cast<std::size_t>(column + 4));
        const auto part = [&](std::size_t n) {
          return linear_of(static_cast<float>(picture.rgba[i + n]) / 255);
        };
        sum += 0.2126 * part(0) + 0.7152 * part(1) + 0.0722 * part(2);
      }
    }
    return sum / 64;
  }

 private:
  // The plate fills the width left of the areas at this size: its middle, less half of the pixels
  // that are looked at.
  [[nodiscard]] ImVec2 middle_of_plate() const {
    const FaceFrame& frame = desk_.face_frame();
    const ImVec2 at = frame.pixel({30, 20});
    return {at.x - 4, at.y - 4};
  }

  void run(Duration length) {
    bench_.forget();
    bench_.run(length);
    auto view = std::make_shared<SessionView>();
    view->now = bench_.now();
    view->seats.push_back({.name = "one",
                           .path = "one.panel.toml",
                           .device = bench_.device(),
                           .observer = Observer(panel_),
                           .links = {}});
    FeedPortion portion;
    for (const OutputChange& change : bench_.outputs().changes)
      portion.items.push_back({change.due, 0, FedChange{change}});
    desk_.take(std::move(view), std::move(portion));
  }

  std::shared_ptr<const Panel> panel_;
  DeviceBench bench_;
  Remembered remembered_;
  Offscreen sheet_;
  Desk desk_;
  int frames_to_draw_ = 3;  // the first time; ImGui learns sizes meanwhile
};

// The greatest and the least of what is seen while it flashes 5 times a second.
std::pair<double, double> range_of(bool calm) {
  Flashing lamp(calm);
  double least = 1e9;
  double most = 0;
  for (int i = 0; i < 24; ++i) {
    lamp.set(i % 2 == 0 ? 255 : 0, milliseconds(100));
    if (i < 12) continue;
    least = std::min(least, lamp.seen());
    most = std::max(most, lamp.seen());
  }
  return {least, most};
}

TEST(CalmLamps, AreSeenAsBrightAsTheyAreOnAverage) {
  const auto [dark, bright] = range_of(false);
  EXPECT_GT(bright, 2 * dark);
  const auto [least, most] = range_of(true);
  EXPECT_LT(most - least, 0.1 * (bright - dark));  // WCAG 2.2, 2.3.1: less than a tenth
  EXPECT_GT(least, dark);
  EXPECT_LT(most, bright);
}

}  // namespace
}  // namespace understudy
