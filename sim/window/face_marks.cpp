// Drawn by ImGui's lists alone: these come and go with the hand.
#include "sim/window/face_marks.h"

#include <algorithm>

namespace understudy {
namespace {

void draw_frame(FaceDrawing& drawing, const Extent& box, float corner, ImU32 colour, float width) {
  drawing.list().AddRect(drawing.px(Point{box.left, box.top}),
                         drawing.px(Point{box.right, box.bottom}), colour, drawing.px(corner), 0,
                         width);
}

// A splinter of beech, its thin end under the cap.
void draw_wedge(FaceDrawing& drawing, const FacePart& part) {
  const float x = part.body.right - 2.2F;
  const float y = part.middle.y + 1.5F;
  const ImVec2 body[4] = {
      drawing.px(Point{x - 2.6F, y - 0.5F}), drawing.px(Point{x + 4.2F, y - 2.4F}),
      drawing.px(Point{x + 4.2F, y + 2.0F}), drawing.px(Point{x - 2.6F, y + 0.4F})};
  ImVec2 shadow[4];
  const float away = drawing.px(0.7F);
  for (int i = 0; i < 4; ++i) shadow[i] = {body[i].x + away, body[i].y + away * 1.3F};
  drawing.list().AddConvexPolyFilled(shadow, 4, IM_COL32(4, 10, 8, 100));
  drawing.list().AddConvexPolyFilled(body, 4, IM_COL32(206, 168, 112, 255));
  for (const float share : {0.3F, 0.55F, 0.8F}) {
    const float right = y - 2.4F + 4.4F * share;
    drawing.list().AddLine(drawing.px(Point{x - 1.6F, y - 0.4F + 0.7F * share}),
                           drawing.px(Point{x + 4.0F, right}), IM_COL32(150, 108, 60, 130),
                           std::max(1.0F, drawing.px(0.15F)));
  }
  drawing.list().AddLine(body[0], body[1], IM_COL32(244, 216, 166, 220),
                         std::max(1.0F, drawing.px(0.25F)));
}

// A paper tag that hangs from the part on a string.
void draw_tag(FaceDrawing& drawing, const FacePart& part) {
  const Point knot = {part.body.right - 1.5F, part.body.top + 1.5F};
  const Point eye = knot + Point{2.6F, 4.2F};
  const float thin = std::max(1.0F, drawing.px(0.22F));
  drawing.list().AddBezierQuadratic(drawing.px(knot), drawing.px(knot + Point{2.4F, 1.2F}),
                                    drawing.px(eye), IM_COL32(226, 214, 184, 255), thin);
  const Point corners[5] = {eye + Point{0, -1.1F}, eye + Point{1.7F, 0.6F}, eye + Point{1.3F, 7.2F},
                            eye + Point{-2.3F, 7.0F}, eye + Point{-1.8F, 0.5F}};
  ImVec2 tag[5];
  ImVec2 shadow[5];
  const float away = drawing.px(0.5F);
  for (int i = 0; i < 5; ++i) {
    tag[i] = drawing.px(corners[i]);
    shadow[i] = {tag[i].x + away, tag[i].y + away * 1.3F};
  }
  drawing.list().AddConvexPolyFilled(shadow, 5, IM_COL32(4, 10, 8, 90));
  drawing.list().AddConvexPolyFilled(tag, 5, IM_COL32(190, 48, 34, 255));
  drawing.list().AddCircleFilled(drawing.px(eye + Point{0, 0.5F}), drawing.px(0.5F),
                                 IM_COL32(246, 236, 214, 255));
}

}  // namespace

void draw_marks_under(FaceDrawing& drawing, const FacePart& part, const PartMarks& marks) {
  const Extent box = grown(part.body, 0.9F);
  if (marks.grabbed) {
    for (int i = 3; i >= 1; --i) {
      draw_frame(drawing, grown(box, 0.35F * static_cast<float>(i)), 5, IM_COL32(255, 196, 104, 34),
                 std::max(1.0F, drawing.px(0.7F * static_cast<float>(i))));
    }
    draw_frame(drawing, box, 4.5F, IM_COL32(255, 205, 122, 235), std::max(1.0F, drawing.px(0.4F)));
  } else if (marks.hovered) {
    draw_frame(drawing, box, 4.5F, IM_COL32(239, 227, 194, 60), std::max(1.0F, drawing.px(0.3F)));
  }
}

void draw_marks_over(FaceDrawing& drawing, const FacePart& part, const PartMarks& marks) {
  if (marks.focused) {
    draw_frame(drawing, grown(part.body, 1.5F), 5, IM_COL32(10, 24, 16, 120),
               std::max(1.5F, drawing.px(0.7F)));
    draw_frame(drawing, grown(part.body, 1.5F), 5, kCreamInk, std::max(1.0F, drawing.px(0.32F)));
  }
  if (marks.wedged) draw_wedge(drawing, part);
  if (marks.faulty) draw_tag(drawing, part);
}

}  // namespace understudy
