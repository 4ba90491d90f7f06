// The editor on a sheet in memory, with a mouse that drags: what becomes of the text, of what is
// shown meanwhile, and of the file.
#include "sim/window/editor.h"

#include <gtest/gtest.h>

#include <cmath>

#include "sim/panel/panel_file.h"
#include "sim/session/session.h"
#include "sim/window/free_spot.h"
#include "sim/window/offscreen.h"
#include "sim/window/save_file.h"

namespace understudy {
namespace {

constexpr const char* kFile =
    "panel = \"Test desk\"\nface = { width_mm = 200, height_mm = 100 }\n\n"
    "[[control]]\nname = \"power\"\nkind = \"pot\"\nat_mm = [50, 50]  # left\n\n"
    "[[control]]\nname = \"bell\"\nkind = \"button\"\nat_mm = [120, 50]\n";
constexpr float kPixelsPerMm = 3;

class TestEditor {
 public:
  explicit TestEditor(const std::string& name)
      : path(testing::TempDir() + "/" + name), sheet_({.width = 700, .height = 400}) {
    EXPECT_TRUE(save_file(path, kFile).ok());
    panel_ = load_panel(path).value();
    Session session(1);
    session.add_seat({.name = "test", .panel = panel_});
    SessionOutputs outputs;
    const SeatInput turned[] = {
        {.seat = 0, .input = {.at = Instant{1'000}, .what = HandAction{.to_ppm = 700'000}}}};
    session.step(Instant{1'000'000'000}, turned, outputs);
    view_.seats.push_back({.name = "test",
                           .path = path,
                           .device = session.device(0),
                           .observer = session.observer(0)});
    view_.now = session.now();
  }
  void begin() { editor.begin({.path = path, .text = panel_->text}); }
  void frame(const std::function<void(AreaContext&)>& more = {}) {
    sheet_.draw_only([&] {
      AreaContext context = {.view = view_,
                             .history = history_,
                             .type = sheet_.type(),
                             .remembered = remembered_,
                             .wishes = wishes_};
      ImGui::SetNextWindowPos({0, 0});
      ImGui::SetNextWindowSize({700, 400});
      ImGui::Begin("face", nullptr, ImGuiWindowFlags_NoDecoration);
      static_cast<void>(editor.shown(live()));
      editor.draw_over_face(context, {.box = {0, 0, 600, 300}, .pixels_per_mm = kPixelsPerMm});
      if (more) more(context);
      ImGui::End();
    });
  }
  void drag(Point from_mm, Point to_mm) {
    ImGuiIO& io = ImGui::GetIO();
    io.MousePos = {from_mm.x * kPixelsPerMm, from_mm.y * kPixelsPerMm};
    for (int i = 0; i < 2; ++i) frame();
    io.MouseDown[0] = true;
    frame();
    io.MousePos = {to_mm.x * kPixelsPerMm, to_mm.y * kPixelsPerMm};
    frame();
    io.MouseDown[0] = false;
    frame();
    frame();
  }
  [[nodiscard]] const SeatView& live() const { return view_.seats[0]; }

  std::string path;
  Editor editor;

 private:
  Offscreen sheet_;
  std::shared_ptr<const Panel> panel_;
  SessionView view_;
  History history_;
  Remembered remembered_;
  std::vector<Wish> wishes_;
};

Place place_shown(TestEditor& test, std::size_t control) {
  return test.editor.shown(test.live()).device.panel().description.controls[control].place;
}

TEST(Editor, WithoutEditsWhatIsPlayedIsShown) {
  TestEditor test("editor-live.panel.toml");
  EXPECT_EQ(&test.editor.shown(test.live()), &test.live());
  test.begin();
  test.frame();
  EXPECT_TRUE(test.editor.on());
  EXPECT_EQ(&test.editor.shown(test.live()), &test.live());
}

TEST(Editor, ADraggedPartSnapsAndIsShownThereWhileTheFileStaysAsItWas) {
  TestEditor test("editor-drag.panel.toml");
  test.begin();
  test.drag({120, 50}, {130.4F, 44.7F});
  EXPECT_TRUE(test.editor.unsaved());
  EXPECT_EQ(place_shown(test, 1), (Place{.placed = true, .x_um = 130'000, .y_um = 45'000}));
  EXPECT_EQ(read_whole(test.path).value(), kFile);
}

TEST(Editor, APressWithoutAMoveChangesNothing) {
  TestEditor test("editor-press.panel.toml");
  test.begin();
  test.drag({120.4F, 50.3F}, {120.4F, 50.3F});
  EXPECT_FALSE(test.editor.unsaved());
}

TEST(Editor, HandsAreInThePreviewWhereTheyAre) {
  TestEditor test("editor-hands.panel.toml");
  test.begin();
  test.drag({120, 50}, {130, 45});
  ASSERT_NE(&test.editor.shown(test.live()), &test.live());
  EXPECT_EQ(test.live().device.position_ppm(0), 700'000);
  EXPECT_EQ(test.editor.shown(test.live()).device.position_ppm(0), 700'000);
}

TEST(Editor, TheFilesOwnTextIsEditedAlsoWhereThePlayedOneHasAllDefaultsWrittenOut) {
  TestEditor test("editor-text.panel.toml");
  test.editor.begin(
      {.path = test.path, .text = resolved_toml(test.live().device.panel().description)});
  test.drag({50, 50}, {60, 50});
  test.frame();
  ImGuiIO& io = ImGui::GetIO();
  io.KeyCtrl = true;
  io.KeysDown[22] = true;  // S: USB HID usage tables 1.12, page 7
  test.frame([&](AreaContext&) { EXPECT_TRUE(test.editor.take_keys()); });
  EXPECT_FALSE(test.editor.unsaved());
  std::string wanted = kFile;
  wanted.replace(wanted.find("[50, 50]"), 8, "[60, 50]");
  EXPECT_EQ(read_whole(test.path).value(), wanted);
}

TEST(Editor, AWindowWithUnsavedEditsAsksBeforeItCloses) {
  TestEditor test("editor-close.panel.toml");
  test.begin();
  EXPECT_TRUE(test.editor.may_close());
  test.drag({120, 50}, {130, 45});
  EXPECT_FALSE(test.editor.may_close());
  bool asks = false;
  for (int i = 0; i < 3; ++i)
    test.frame([&](AreaContext& context) { asks = test.editor.draw_questions(context); });
  EXPECT_TRUE(asks);
  EXPECT_FALSE(test.editor.close_agreed());
}

TEST(Editor, AnotherFileIsOpenedAtOnceOnlyWithoutUnsavedEdits) {
  TestEditor test("editor-open.panel.toml");
  bool opened = false;
  test.begin();
  test.editor.before_open([&] { opened = true; });
  EXPECT_TRUE(opened);
  EXPECT_FALSE(test.editor.on());
  test.begin();
  test.drag({120, 50}, {130, 45});
  opened = false;
  test.editor.before_open([&] { opened = true; });
  EXPECT_FALSE(opened);
  EXPECT_TRUE(test.editor.on());
}

TEST(FreeSpot, WhatLiesOnAnotherPartFindsTheNearestPlaceWhereItTouchesNone) {
  const auto panel = parse_panel(
      "panel = \"X\"\nface = { width_mm = 200, height_mm = 100 }\n"
      "[[control]]\nname = \"a\"\nkind = \"button\"\nat_mm = [100, 50]\n"
      "[[control]]\nname = \"b\"\nkind = \"button\"\nat_mm = [104, 50]\n",
      "x.panel.toml");
  ASSERT_TRUE(panel.ok());
  const FaceGeometry face = geometry_of(panel.value()->description);
  const std::optional<Point> spot = free_spot(face, {false, 1});
  ASSERT_TRUE(spot.has_value());
  const Extent there = moved(face.parts[1].body, {spot->x - 104, spot->y - 50});
  EXPECT_FALSE(overlap(there, face.parts[0].body));
  EXPECT_LT(std::hypot(spot->x - 104, spot->y - 50), 40);
}

TEST(FreeSpot, WhatLiesWellStaysWhereItIs) {
  const auto panel = parse_panel(kFile, "x.panel.toml");
  ASSERT_TRUE(panel.ok());
  const FaceGeometry face = geometry_of(panel.value()->description);
  EXPECT_FALSE(free_spot(face, {false, 0}).has_value());
  EXPECT_FALSE(free_spot(face, {false, 1}).has_value());
}

}  // namespace
}  // namespace understudy
