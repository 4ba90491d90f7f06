// A stick: a ball on a shaft that leans out of a rubber boot in a square flange.
#include <algorithm>

#include "sim/window/face_parts.h"

namespace understudy {
namespace {

constexpr float kBootMm = 13.2F;

void paint_base(Canvas& canvas, const FacePart& part) {
  const Point& m = part.middle;
  const Shape flange = rounded(around(m, 33, 33), 3);
  canvas.shadow(flange, {.height = 1.4F, .strength = 0.5F, .contact = 0.45F});
  canvas.fill(flange, {.colour = light_of(0x2B2C2B),
                       .shine = 0.32F,
                       .roughness = 0.5F,
                       .height = rounded_edge(0.9F, 0.6F),
                       .tone = clouded(1.2F, 0.1F, 21)});
  for (const float x : {-13.6F, 13.6F}) {
    for (const float y : {-13.6F, 13.6F}) {
      paint_screw(canvas, m + Point{x, y}, 1.35F, 40 + x * 5 + y * 2);
    }
  }
  canvas.hole(circle(m, kBootMm), light_of(0x101010), 1.2F);
  // The boot's folds, each a soft ring on the last.
  for (const float radius : {12.2F, 9.9F, 7.6F}) {
    const Shape fold = circle(m, radius);
    canvas.shadow(fold, {.height = 0.8F, .strength = 0.4F, .contact = 0.4F});
    canvas.fill(fold, {.colour = light_of(0x262627),
                       .shine = 0.22F,
                       .roughness = 0.55F,
                       .height = rounded_edge(2.3F, 1.5F)});
  }
}

std::vector<Sprite> paint_sprites(const FacePart&, float scale) {
  Canvas shadow(around({}, 4 * kBallRadiusMm, 4 * kBallRadiusMm), scale);
  shadow.shadow(circle({}, kBallRadiusMm), {.height = 9, .strength = 0.6F, .contact = 0.1F});
  Canvas fold(around({}, 14, 14), scale);
  fold.shadow(circle({}, 5.2F), {.height = 0.8F, .strength = 0.4F, .contact = 0.4F});
  fold.fill(circle({}, 5.2F), {.colour = light_of(0x2A2A2B),
                               .shine = 0.22F,
                               .roughness = 0.55F,
                               .height = rounded_edge(2.6F, 1.8F)});
  Canvas ball(around({}, 2 * kBallRadiusMm + 2, 2 * kBallRadiusMm + 2), scale);
  ball.fill(circle({}, kBallRadiusMm), {.colour = light_of(0x1C1A1A),
                                        .shine = 0.62F,
                                        .roughness = 0.3F,
                                        .height = dome({}, kBallRadiusMm, kBallRadiusMm * 0.8F)});
  return {sprite_of(shadow), sprite_of(fold), sprite_of(ball)};
}

void draw(FaceDrawing& drawing, const FacePart& part, const PartState& state) {
  const auto ppm = [&](std::size_t n) {
    return static_cast<std::int32_t>(state.position(part, n) * 1e6F);
  };
  const Point lean = handle_at(*part.control, ppm(0), ppm(1));
  const float down =
      part.control->stick.presses ? std::clamp(state.position(part, 2), 0.0F, 1.0F) : 0;
  drawing.sprite(1, part.middle + lean * 0.3F);
  const Point at = part.middle + lean;
  drawing.list().AddLine(drawing.px(part.middle + lean * 0.3F), drawing.px(at),
                         IM_COL32(120, 118, 112, 255), drawing.px(2.6F));
  drawing.sprite_grown(0, at + Point{-0.9F, -1.2F} * down, 1, IM_COL32(255, 255, 255, 255));
  const int light = static_cast<int>(255 - 60 * down);
  drawing.sprite_grown(2, at, 1 - 0.07F * down, IM_COL32(light, light, light, 255));
}

}  // namespace

PartLook stick_look() {
  return {.paint_base = paint_base, .paint_sprites = paint_sprites, .draw = draw};
}

}  // namespace understudy
