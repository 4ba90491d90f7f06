// A black disc with a sound hole and slots; while it sounds, arcs stand beside it, and its pitch.
#include <fmt/format.h>

#include <algorithm>
#include <numbers>

#include "sim/board/buzzer.h"
#include "sim/window/face_parts.h"

namespace understudy {
namespace {

constexpr float kDiscMm = 6.6F;

void paint_disc(Canvas& canvas, const FacePart& part) {
  const Point& middle = part.middle;
  const Shape disc = circle(middle, kDiscMm);
  canvas.shadow(disc, {.height = 2.4F, .strength = 0.5F, .contact = 0.45F});
  canvas.fill(disc, {.colour = light_of(0x23211F),
                     .shine = 0.3F,
                     .roughness = 0.5F,
                     .height = rounded_edge(0.9F, 0.7F)});
  canvas.fill(ring(middle, kDiscMm * 0.8F, 0.25F), light_of(0x0C0B0A), 0.7F);
  for (int i = 0; i < 6; ++i) {
    const float at = 60.0F * static_cast<float>(i);
    canvas.hole(arc(middle, kDiscMm * 0.56F, 0.75F, at + 12, at + 48), light_of(0x050505), 0.6F);
  }
  canvas.hole(circle(middle, 1.15F), light_of(0x030303), 1.2F);
}

void draw_arcs(FaceDrawing& drawing, const Point& middle, float loudness) {
  constexpr float kHalf = 0.62F;  // of an arc, radians
  const float thickness = std::max(1.0F, drawing.px(0.45F));
  for (int i = 0; i < 3; ++i) {
    const float radius = drawing.px(kDiscMm + 1.5F + 1.5F * static_cast<float>(i));
    const float share = std::clamp(loudness * 3 - static_cast<float>(i), 0.25F, 1.0F);
    const ImU32 ink = (kCreamInk & ~IM_COL32_A_MASK) | static_cast<ImU32>(235 * share)
                                                           << IM_COL32_A_SHIFT;
    for (const float way : {0.0F, std::numbers::pi_v<float>}) {
      drawing.list().PathArcTo(drawing.px(middle), radius, way - kHalf, way + kHalf, 16);
      drawing.list().PathStroke(ink, ImDrawFlags_None, thickness);
    }
  }
}

void draw_buzzer(FaceDrawing& drawing, const FacePart& part, const PartState& state) {
  const Sound sound = sound_of(state.number(part), *part.output);
  if (sound.frequency_mhz == 0) return;
  draw_arcs(drawing, part.middle, static_cast<float>(sound.level_ppm) / 1e6F);
  drawing.text(part.middle + Point{0, -kDiscMm - 2.6F}, 3.4F,
               fmt::format("{} Hz", (sound.frequency_mhz + 500) / 1'000), kCreamInk, 20);
}

}  // namespace

PartLook buzzer_look() {
  return {.paint_base = paint_disc, .draw = draw_buzzer};
}

}  // namespace understudy
