// A jewel lamp: a faceted glass lens of its colour in a chromed ring, lit from within.
#include <algorithm>
#include <cmath>

#include "sim/window/face_lamps.h"

namespace understudy {
namespace {

Light as_light(const RgbLight& light) {
  return {static_cast<float>(light.red), static_cast<float>(light.green),
          static_cast<float>(light.blue)};
}

// How far a point reaches towards the furthest of so many sides.
float reach(const Point& q, int sides, float turned_deg) {
  float most = 0;
  for (int side = 0; side < sides; ++side) {
    const Point way =
        at_angle({}, 1, turned_deg + 360.0F * static_cast<float>(side) / static_cast<float>(sides));
    most = std::max(most, q.x * way.x + q.y * way.y);
  }
  return most;
}

// A table in the middle, eight facets around it and sixteen to the rim.
Height jewel(const Point& middle) {
  return [middle](const Point& at, float) {
    const Point q = at - middle;
    const float crown = 0.42F * (kLensMm * 0.98F - reach(q, 8, 22.5F));
    const float rim = 0.95F * (kLensMm * 1.06F - reach(q, 16, 0));
    return std::min({0.8F, crown + 0.12F, rim});
  };
}

// Facets throw light on in different amounts.
float sparkle(const Point& q) {
  const float away = std::hypot(q.x, q.y) / kLensMm;
  const float angle = std::atan2(q.y, q.x) * 8 / 6.2831853F;
  const auto facet = static_cast<std::int32_t>(std::floor(angle));
  const bool table = reach(q, 8, 22.5F) < kLensMm * 0.46F;
  const float own = table ? 1.0F : 0.62F + 0.36F * chance_at(facet, away > 0.8F ? 1 : 0, 5);
  return own * (1.0F - 0.16F * away * away);
}

void paint_glint(Canvas& canvas, const Point& middle, float opacity) {
  const Point at = middle + Point{-0.3F, -0.375F} * kLensMm;
  canvas.fill(turned(ellipse(at, 0.25F * kLensMm, 0.12F * kLensMm), at, -38), light_of(0xFFFFFF),
              opacity);
}

void paint_lens(Canvas& canvas, const FacePart& part) {
  const Shape lens = circle(part.middle, kLensMm);
  const Light glass = as_light(glass_light(part.output->colour));
  paint_bezel(canvas, part.middle, kLensMm, kLampBezelMm);
  canvas.fill(grown(lens, 0.12F), light_of(0x0D0C0A));
  canvas.fill(lens,
              {.colour = glass, .shine = 0.5F, .roughness = 0.35F, .height = jewel(part.middle)});
  // Daylight that went in at the upper left comes out of the glass at the lower right.
  canvas.glow(part.middle + Point{0.28F, 0.36F} * kLensMm, 0.6F * kLensMm,
              as_light(hue_light(part.output->colour)) * 0.2F);
  canvas.recess(lens, {.height = 0.6F, .strength = 0.4F, .contact = 0.4F});
  paint_glint(canvas, part.middle, 0.42F);
}

std::vector<Sprite> lamp_sprites(const FacePart& part, float pixels_per_mm) {
  const RgbLight hue = hue_light(part.output->colour);
  Canvas lit(around({}, 2 * kLensMm + 1, 2 * kLensMm + 1), pixels_per_mm);
  const Shape lens = circle({}, kLensMm);
  lit.fill(lens, {.colour = as_light(hue), .tone = sparkle});
  // The middle is hotter than a screen's colour can be: towards white.
  lit.glow({0.1F, 0.15F}, kLensMm * 0.8F, Light{1, 0.9F, 0.78F} * 1.9F);
  paint_glint(lit, {}, 0.5F);
  return {sprite_of(lit), halo_sprite(kLensMm * static_cast<float>(kWidestGlow),
                                      halo_colour(srgb_of(hue)), pixels_per_mm)};
}

std::string colour_of(const FacePart& part) {
  return part.output->colour;
}

// The lens over its halo: blended over it, the halo would dim what is brightest.
void draw_lamp(FaceDrawing& drawing, const FacePart& part, const PartState& state) {
  const SeenLight seen = light_on(part, state);
  if (seen.lightness <= 0) return;
  draw_halo(drawing, 1, part.middle, seen, IM_COL32_WHITE);
  drawing.sprite(0, part.middle, 0, with_alpha(0xFFFFFF, seen.lightness / 100));
}

}  // namespace

PartLook lamp_look() {
  return {.paint_base = paint_lens,
          .paint_sprites = lamp_sprites,
          .sprite_key = colour_of,
          .draw_light = draw_lamp};
}

}  // namespace understudy
