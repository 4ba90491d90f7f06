// An encoder: a knurled knob without a pointer that turns round and round; a dimple in its crown
// shows how far.
#include <cmath>

#include "sim/window/face_knobs.h"

namespace understudy {
namespace {

constexpr float kKnobMm = 8.6F;

void paint_base(Canvas& canvas, const FacePart& part) {
  paint_bezel(canvas, part.middle, kKnobMm - 1, 1.35F);
}

std::vector<Sprite> paint_sprites(const FacePart&, float scale) {
  const KnobLook look = {.radius = kKnobMm, .teeth = 30, .line = false, .colour = 0x2A2725};
  std::vector<Sprite> sprites = paint_knob(look, scale);
  Canvas dimple(around({}, 2 * kKnobMm, 2 * kKnobMm), scale);
  const Point at = {0, -kKnobMm * 0.44F};
  dimple.hole(circle(at, 1.35F), light_of(0x171412), 0.7F);
  dimple.fill(circle(at, 0.75F), light_of(paints::kCream), 0.9F);
  constexpr int kGrips = 30;
  for (int i = 0; i < kGrips; ++i) {  // the knurl turns too
    const float degrees = 360.0F * static_cast<float>(i) / kGrips;
    dimple.fill(capsule(at_angle({}, kKnobMm * 0.8F, degrees),
                        at_angle({}, kKnobMm * 0.92F, degrees), 0.14F),
                light_of(0x050404), 0.55F);
  }
  sprites[2] = sprite_of(dimple);
  return sprites;
}

void draw(FaceDrawing& drawing, const FacePart& part, const PartState& state) {
  const float turns = state.position(part);
  draw_knob(drawing, part.middle, (turns - std::floor(turns)) * 360, state.marks);
}

}  // namespace

PartLook encoder_look() {
  return {.paint_base = paint_base, .paint_sprites = paint_sprites, .draw = draw};
}

}  // namespace understudy
