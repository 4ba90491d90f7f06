// A toggle switch: a nickel bat lever in a nut, which swings up when it is on.
#include <algorithm>
#include <array>
#include <cmath>

#include "sim/window/face_parts.h"

namespace understudy {
namespace {

constexpr float kLeverMm = 9.6F;  // from the bore to the middle of its ball
constexpr float kBallMm = 2.5F;

void paint_base(Canvas& canvas, const FacePart& part) {
  paint_nut(canvas, part.middle, 10.6F, 2.9F);
  for (const float side : {-1.0F, 1.0F}) {  // a dash for on above, a ring for off below
    const Point at = {part.middle.x + 6.3F, part.middle.y + side * 9.5F};
    if (side > 0) {
      canvas.engrave(ring(at, 0.75F, std::max(0.36F, canvas.pixel())), light_of(paints::kCream));
    } else {
      canvas.engrave(
          capsule(at + Point{0, -0.9F}, at + Point{0, 0.9F}, std::max(0.36F, canvas.pixel()) / 2),
          light_of(paints::kCream));
    }
  }
}

// A tapered bat that reaches up (or down) from the bore, with its light from the upper left either
// way; the third stands straight out, as in the middle of its swing.
Sprite paint_lever(float scale, float reach) {
  Canvas canvas(around({}, 10, 2 * (kLeverMm + kBallMm) + 3), scale);
  const Point tip = {0, -reach};
  const float ball = kBallMm + (1 - std::abs(reach) / kLeverMm) * 0.5F;
  const std::array<Point, 4> bat = {Point{-1.3F, 0}, Point{-ball * 0.92F, -reach},
                                    Point{ball * 0.92F, -reach}, Point{1.3F, 0}};
  const Shape whole = joined(joined(polygon(bat), circle(tip, ball)), circle({}, 1.7F));
  canvas.fill(whole, {.colour = light_of(0xCBC7BE),
                      .shine = 0.75F,
                      .roughness = 0.26F,
                      .metal = true,
                      .height = [ball](const Point&, float inside) {
                        const float share = 1 - std::clamp(inside / ball, 0.0F, 1.0F);
                        return ball * std::sqrt(std::max(0.0F, 1 - share * share));
                      }});
  return sprite_of(canvas);
}

Sprite paint_lever_shadow(float scale, float reach) {
  Canvas canvas(around({}, 30, 2 * (kLeverMm + kBallMm) + 18), scale);
  canvas.shadow(joined(capsule({}, {0, -reach}, 1.6F), circle({0, -reach}, kBallMm)),
                {.height = 7, .strength = 0.6F, .contact = 0.25F});
  return sprite_of(canvas);
}

// On, halfway, off: a lever is seen at its ends but for a moment.
constexpr std::array<float, 5> kReaches = {-kLeverMm, -kLeverMm * 0.55F, 0.01F, kLeverMm * 0.55F,
                                           kLeverMm};

std::vector<Sprite> paint_sprites(const FacePart&, float scale) {
  std::vector<Sprite> sprites;
  for (const float reach : kReaches) {
    sprites.push_back(paint_lever_shadow(scale, reach));
    sprites.push_back(paint_lever(scale, reach));
  }
  return sprites;
}

void draw(FaceDrawing& drawing, const FacePart& part, const PartState& state) {
  const float swung = std::clamp(state.position(part), 0.0F, 1.0F);
  const auto n = static_cast<std::size_t>(std::lround(swung * 4));
  drawing.sprite(2 * n, part.middle);
  drawing.sprite(2 * n + 1, part.middle, 0,
                 state.marks.grabbed ? IM_COL32(255, 240, 214, 255) : IM_COL32_WHITE);
}

}  // namespace

PartLook switch_look() {
  return {.paint_base = paint_base, .paint_sprites = paint_sprites, .draw = draw};
}

}  // namespace understudy
