// A round body lit once, with a transparent picture of lines over it that turns: light that turned
// with a knob would give it away.
#include "sim/window/face_knobs.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace understudy {
namespace {

Shape beak(const KnobLook& look) {
  const std::array<Point, 4> corners = {Point{-look.radius * 0.5F, -look.radius * 0.55F},
                                        Point{-0.5F, -look.radius - look.pointer_mm},
                                        Point{0.5F, -look.radius - look.pointer_mm},
                                        Point{look.radius * 0.5F, -look.radius * 0.55F}};
  return polygon(corners);
}

// Skirt, flank and crown, each in the light.
void paint_body(Canvas& canvas, const KnobLook& look) {
  const float r = look.radius;
  const Light colour = light_of(look.colour);
  const int flutes = look.teeth > 0 ? look.teeth : 36;
  const Shape skirt = circle({}, r);
  canvas.fill(skirt, {.colour = colour,
                      .shine = 0.55F,
                      .roughness = 0.36F,
                      .height = rounded_edge(r * 0.2F, r * 0.14F),
                      .tone = clouded(3, 0.1F, 5)});
  const Shape flank = look.teeth > 0 ? knurled({}, r * 0.97F, flutes, r * 0.055F)
                                     : knurled({}, r * 0.86F, flutes, r * 0.035F);
  canvas.shadow(flank, {.height = 1.0F, .strength = 0.5F, .contact = 0.55F});
  canvas.fill(flank, {.colour = colour * 0.92F,
                      .shine = 0.6F,
                      .roughness = 0.4F,
                      .height = rounded_edge(r * 0.2F, r * 0.24F)});
  const Shape crown = circle({}, r * 0.66F);
  canvas.fill(crown, {.colour = colour * 1.1F,
                      .shine = 0.5F,
                      .roughness = 0.3F,
                      .height = dome({}, r * 0.66F, r * 0.1F),
                      .tone = clouded(2.4F, 0.12F, 9)});
  canvas.fill(ring({}, r * 0.66F, std::max(0.3F, canvas.pixel())),
              {.colour = colour * 0.5F, .shine = 0.3F, .height = dished(0.15F, 0.2F)});
}

void paint_line(Canvas& canvas, const KnobLook& look) {
  const float r = look.radius;
  if (look.pointer_mm > 0) {
    const Shape tip = beak(look);
    canvas.fill(tip, {.colour = light_of(look.colour),
                      .shine = 0.45F,
                      .roughness = 0.4F,
                      .height = rounded_edge(0.8F, 0.5F)});
  }
  if (!look.line) return;
  const float far = r + look.pointer_mm - 0.9F;
  const float width = std::max(0.5F, 1.2F * canvas.pixel());
  const Shape line = capsule({0, -r * 0.3F}, {0, -far}, width / 2 + 0.1F);
  canvas.fill(grown(line, 0.2F), light_of(0x080605), 0.75F);
  canvas.fill(line, light_of(paints::kCream));
}

}  // namespace

std::vector<Sprite> paint_knob(const KnobLook& look, float pixels_per_mm) {
  const float reach = look.radius + look.pointer_mm;
  Canvas shadow(around({}, 2 * reach + 16, 2 * reach + 16), pixels_per_mm);
  const Shade fall = {.height = look.radius * 0.85F, .strength = 0.55F, .contact = 0.55F};
  shadow.shadow(circle({}, look.radius), fall);
  Canvas body(around({}, 2 * look.radius + 2, 2 * look.radius + 2), pixels_per_mm);
  paint_body(body, look);
  Canvas line(around({}, 2 * reach + 2, 2 * reach + 2), pixels_per_mm);
  paint_line(line, look);
  return {sprite_of(shadow), sprite_of(body), sprite_of(line)};
}

void draw_knob(FaceDrawing& drawing, const Point& middle, float degrees, const PartMarks& marks) {
  const ImU32 tint = marks.grabbed ? IM_COL32(255, 240, 214, 255) : IM_COL32_WHITE;
  drawing.sprite(0, middle);
  drawing.sprite(1, middle, 0, tint);
  drawing.sprite(2, middle, degrees == 0 ? 0.001F : degrees, tint);
}

}  // namespace understudy
