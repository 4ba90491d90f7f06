// Where parts are and what lies under a point, on the example panels, without any drawing.
#include "sim/window/face_geometry.h"

#include <gtest/gtest.h>

#include <cmath>
#include <string>

#include "sim/panel/panel_file.h"

namespace understudy {
namespace {

const char* const kPanels[] = {"tram", "quiz", "telescope", "greenhouse", "organ"};

std::shared_ptr<const Panel> panel_of(const std::string& name) {
  const auto panel = load_panel(std::string(UNDERSTUDY_SOURCE_ROOT "/scenarios/") + name + "/" +
                                name + ".panel.toml");
  EXPECT_TRUE(panel.ok()) << name;
  return panel.ok() ? panel.value() : nullptr;
}

// The face of a panel that is drawn so many pixels wide.
FaceGeometry drawn(const PanelDescription& panel, float pixels) {
  return geometry_of(panel, legend_mm_at(pixels * 1'000 / static_cast<float>(panel.width_um)));
}

class FaceAsDrawn : public testing::TestWithParam<float> {};

INSTANTIATE_TEST_SUITE_P(Widths, FaceAsDrawn, testing::Values(430, 780, 1'640, 3'000));

TEST_P(FaceAsDrawn, NothingOverlapsOrLeavesThePlateOnTheExamplePanels) {
  for (const char* name : kPanels) {
    const auto panel = panel_of(name);
    ASSERT_NE(panel, nullptr);
    const FaceGeometry face = drawn(panel->description, GetParam());
    EXPECT_FALSE(face.title.lines.empty()) << name;
    std::vector<Extent> boxes = {face.title.box};
    for (const PlacedPart& part : face.parts) {
      boxes.push_back(part.body);
      if (!part.legend.lines.empty()) boxes.push_back(part.legend.box);
    }
    for (std::size_t i = 0; i < boxes.size(); ++i) {
      EXPECT_GE(boxes[i].left, 0) << name;
      EXPECT_GE(boxes[i].top, 0) << name;
      EXPECT_LE(boxes[i].right, face.width) << name;
      EXPECT_LE(boxes[i].bottom, face.height) << name;
      for (std::size_t k = 0; k < i; ++k) {
        EXPECT_FALSE(overlap(boxes[i], boxes[k])) << name << " " << i << " " << k;
      }
    }
  }
}

// Common practice, no source: letters of a screen want 12 pixels from capital to descender.
TEST_P(FaceAsDrawn, LettersOfLegendsHaveTheHeightAndTheRoomToBeRead) {
  for (const char* name : kPanels) {
    const auto panel = panel_of(name);
    ASSERT_NE(panel, nullptr);
    const FaceGeometry face = drawn(panel->description, GetParam());
    const float scale = GetParam() / face.width;
    for (const PlacedPart& part : face.parts) {
      for (const std::string& line : part.legend.lines) {
        const float lines = static_cast<float>(part.legend.lines.size());
        EXPECT_GE(part.legend.box.height() / lines * scale, 12) << name << " " << line;
        const float letter = part.legend.box.width() * scale / static_cast<float>(line.size());
        EXPECT_GE(letter, 5) << name << " " << line;
      }
    }
  }
}

TEST(FaceGeometry, TheMiddleOfAPartIsThatPart) {
  for (const char* name : kPanels) {
    const auto panel = panel_of(name);
    ASSERT_NE(panel, nullptr);
    const FaceGeometry face = geometry_of(panel->description);
    for (const PlacedPart& part : face.parts) {
      const std::optional<FaceHit> found = hit(face, part.middle);
      ASSERT_TRUE(found.has_value()) << name;
      EXPECT_EQ(found->part, part.id) << name;
    }
    EXPECT_FALSE(hit(face, {-20, -20}).has_value());
  }
}

TEST(FaceGeometry, PixelsGoToMillimetresAndBack) {
  FaceGeometry face;
  face.width = 200;
  face.height = 100;
  const FaceFrame frame = frame_in({10, 20, 410, 320}, face);
  EXPECT_FLOAT_EQ(frame.pixels_per_mm, 2);
  EXPECT_FLOAT_EQ(frame.box.top, 70);  // in the middle of what is higher than it needs
  const Point mm = frame.mm(frame.pixel({12.5F, 80}));
  EXPECT_FLOAT_EQ(mm.x, 12.5F);
  EXPECT_FLOAT_EQ(mm.y, 80);
}

TEST(FaceGeometry, AHandleDraggedToWhereItStandsStaysThere) {
  ControlDescription slide;
  slide.pot.shape = TravelShape::kSlide;
  slide.pot.travel = 60'000;
  ControlDescription knob;
  ControlDescription stick;
  stick.kind = ControlKind::kStick;
  for (std::int32_t ppm = 0; ppm <= 1'000'000; ppm += 50'000) {
    EXPECT_NEAR(ppm_at(slide, 0, handle_at(slide, ppm)), ppm, 5);
    EXPECT_NEAR(ppm_at(knob, 0, handle_at(knob, ppm)), ppm, 5);
    EXPECT_NEAR(ppm_at(stick, 1, handle_at(stick, 300'000, ppm)), ppm, 5);
  }
  EXPECT_FLOAT_EQ(handle_at(slide, 1'000'000).y, -30);  // more is up
  EXPECT_FLOAT_EQ(pointer_deg(knob, 1'000'000), 140);
  EXPECT_EQ(ppm_at(slide, 0, {0, 90}), 0);
}

TEST(FaceGeometry, NamesBecomeSentences) {
  EXPECT_EQ(legend_text("signal_red"), "Signal red");
  EXPECT_EQ(legend_text("a"), "A");
  EXPECT_EQ(legend_text(""), "");
}

}  // namespace
}  // namespace understudy
