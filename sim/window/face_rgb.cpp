// A frosted dome in a chromed ring, in which three colours mix.
#include <cmath>

#include "sim/window/face_lamps.h"

namespace understudy {
namespace {

constexpr std::uint32_t kFrosted = 0x5E605B;  // unlit, in daylight

void paint_dome(Canvas& canvas, const FacePart& part) {
  const Shape ball = circle(part.middle, kLensMm);
  paint_bezel(canvas, part.middle, kLensMm, kLampBezelMm);
  canvas.fill(grown(ball, 0.12F), light_of(0x0D0C0A));
  canvas.fill(ball, {.colour = light_of(kFrosted),
                     .shine = 0.18F,
                     .roughness = 0.6F,
                     .height = dome(part.middle, kLensMm, 2.1F)});
}

std::vector<Sprite> dome_sprites(const FacePart&, float pixels_per_mm) {
  Canvas lit(around({}, 2 * kLensMm + 1, 2 * kLensMm + 1), pixels_per_mm);
  lit.fill(circle({}, kLensMm), {.colour = light_of(0xFFFFFF), .tone = [](const Point& q) {
                                   const float away = std::hypot(q.x, q.y) / kLensMm;
                                   return 1.05F - 0.4F * away * away;
                                 }});
  Canvas hot(around({}, 2 * kLensMm, 2 * kLensMm), pixels_per_mm);
  hot.glow({}, kLensMm * 0.8F, Light{1, 1, 1} * 0.75F);
  Canvas glint(around({}, 2 * kLensMm, 2 * kLensMm), pixels_per_mm);
  glint.glow({-1.05F, -1.3F}, 1.15F, Light{1, 1, 1} * 0.6F);
  return {sprite_of(lit), sprite_of(hot), sprite_of(glint),
          halo_sprite(kLensMm * static_cast<float>(kWidestGlow), 0xFFFFFF, pixels_per_mm)};
}

// Frosting scatters some of every colour, so that even one alone is no darker than the dome unlit.
std::uint32_t scattered(const RgbLight& light) {
  constexpr double kScatter = 0.16;
  const auto part = [](double own) { return own * (1 - kScatter) + kScatter; };
  return srgb_of({part(light.red), part(light.green), part(light.blue)});
}

void draw_rgb(FaceDrawing& drawing, const FacePart& part, const PartState& state) {
  const SeenMixture mixture = mixture_on(part, state);
  const double share = mixture.seen.lightness / 100;
  if (share > 0) {
    drawing.sprite(0, part.middle, 0, with_alpha(scattered(mixture.light), share));
    drawing.sprite(1, part.middle, 0, with_alpha(0xFFFFFF, share * share));
  }
  drawing.sprite(2, part.middle);
}

void draw_rgb_light(FaceDrawing& drawing, const FacePart& part, const PartState& state) {
  const SeenMixture mixture = mixture_on(part, state);
  draw_halo(drawing, 3, part.middle, mixture.seen,
            with_alpha(halo_colour(scattered(mixture.light)), 1));
}

}  // namespace

PartLook rgb_look() {
  return {.paint_base = paint_dome,
          .paint_sprites = dome_sprites,
          .draw = draw_rgb,
          .draw_light = draw_rgb_light};
}

}  // namespace understudy
