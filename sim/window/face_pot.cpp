// Pots: a slide with a ribbed handle on a slotted track, or a turned bakelite knob whose cream line
// points at a scale.
#include <algorithm>
#include <cmath>

#include "sim/window/face_knobs.h"
#include "sim/window/face_parts.h"

namespace understudy {
namespace {

constexpr float kHandleWidth = 13;
constexpr float kHandleHeight = 10;
constexpr float kKnobMm = 8.2F;

bool slides(const FacePart& part) {
  return part.control->pot.shape == TravelShape::kSlide;
}

void paint_track(Canvas& canvas, const FacePart& part) {
  const float half = travel_mm(*part.control) / 2;
  const Point& m = part.middle;
  canvas.hole(rounded({m.x - 1.3F, m.y - half - 2.6F, m.x + 1.3F, m.y + half + 2.6F}, 1.3F),
              light_of(0x0C0D0C), 1.6F);
  constexpr int kMarks = 10;
  for (int i = 0; i <= kMarks; ++i) {
    const float y = m.y + half - 2 * half * static_cast<float>(i) / kMarks;
    const float length = i % 5 == 0 ? 3.0F : 1.7F;
    const float width = std::max(i % 5 == 0 ? 0.42F : 0.3F, canvas.pixel()) / 2;
    for (const float side : {-1.0F, 1.0F}) {
      const float from = m.x + side * 3.2F;
      canvas.engrave(capsule({from, y}, {from + side * length, y}, width),
                     light_of(paints::kCream));
    }
  }
}

// The handle and, below it, its shadow.
std::vector<Sprite> paint_handle(float scale) {
  const Extent size = around({}, kHandleWidth, kHandleHeight);
  Canvas shadow(grown(size, 6), scale);
  shadow.shadow(rounded(size, 1.6F), {.height = 5.5F, .strength = 0.55F, .contact = 0.5F});
  Canvas canvas(grown(size, 1), scale);
  const Shape body = rounded(size, 1.6F);
  const Light black = light_of(0x232222);
  canvas.fill(body, {.colour = black,
                     .shine = 0.4F,
                     .roughness = 0.45F,
                     .height = ribbed(
                         [](const Point& at, float inside) {
                           const float share = 1 - std::clamp(inside / 1.4F, 0.0F, 1.0F);
                           const float waist = 0.035F * at.y * at.y;  // hollow for a finger
                           return waist + 1.2F * std::sqrt(std::max(0.0F, 1 - share * share));
                         },
                         1.25F, 0.3F, true)});
  const Shape line = common(rounded({-kHandleWidth / 2, -0.36F, kHandleWidth / 2, 0.36F}, 0), body);
  canvas.fill(grown(line, 0.22F), light_of(0x0B0B0B), 0.8F);
  canvas.fill(line, {.colour = light_of(paints::kCream), .shine = 0.1F});
  return {sprite_of(shadow), sprite_of(canvas)};
}

void paint_base(Canvas& canvas, const FacePart& part) {
  if (slides(part)) {
    paint_track(canvas, part);
    return;
  }
  constexpr int kMarks = 10;
  for (int i = 0; i <= kMarks; ++i) {
    const float degrees = pointer_deg(*part.control, i * 100'000);
    const bool whole = i % 5 == 0;
    paint_mark(canvas, part.middle, 9.9F, whole ? 12.3F : 11.4F, degrees, whole ? 0.5F : 0.34F);
  }
}

std::vector<Sprite> paint_sprites(const FacePart& part, float scale) {
  if (slides(part)) return paint_handle(scale);
  return paint_knob({.radius = kKnobMm, .teeth = 0}, scale);
}

std::string sprite_key(const FacePart& part) {
  return slides(part) ? "slide" : "rotary";
}

void draw(FaceDrawing& drawing, const FacePart& part, const PartState& state) {
  const auto ppm = static_cast<std::int32_t>(state.position(part) * 1e6F);
  if (!slides(part)) {
    draw_knob(drawing, part.middle, pointer_deg(*part.control, ppm), state.marks);
    return;
  }
  const Point at = part.middle + handle_at(*part.control, ppm);
  drawing.sprite(0, at);
  drawing.sprite(1, at, 0, state.marks.grabbed ? IM_COL32(255, 244, 224, 255) : IM_COL32_WHITE);
}

}  // namespace

PartLook pot_look() {
  return {.paint_base = paint_base,
          .paint_sprites = paint_sprites,
          .sprite_key = sprite_key,
          .draw = draw};
}

}  // namespace understudy
