// Seven-segment digits behind smoked glass; lit segments glow a little, the others can just be
// told. Which of them are lit is the work of sim/board/digits.h.
#include "sim/board/digits.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "sim/window/face_lamps.h"

namespace understudy {
namespace {

constexpr float kPitchMm = 12.7F;
constexpr float kTallMm = 12.6F;  // of a digit
constexpr float kWideMm = 5.8F;
constexpr float kSlant = 0.09F;  // to the right for each millimetre up
constexpr float kStrokeMm = 1.5F;
constexpr float kGlowMm = 1.1F;
constexpr std::size_t kSegments = 8;  // with the point

Point slanted(float x, float y) {
  return {x - kSlant * y - 0.45F, y};
}

// Around the middle of a digit; bit n of DigitRow::segments is segment n.
Shape segment(std::size_t n) {
  constexpr float kX = kWideMm / 2;
  constexpr float kY = kTallMm / 2;
  constexpr float kGap = 1.02F;  // from the corner where two meet
  if (n == 7) return circle(slanted(kX + 1.7F, kY), kStrokeMm * 0.58F);
  struct Ends {
    Point from;
    Point to;
  };
  const std::array<Ends, 7> ends = {{{{-kX + kGap, -kY}, {kX - kGap, -kY}},
                                     {{kX, -kY + kGap}, {kX, -kGap}},
                                     {{kX, kGap}, {kX, kY - kGap}},
                                     {{-kX + kGap, kY}, {kX - kGap, kY}},
                                     {{-kX, kGap}, {-kX, kY - kGap}},
                                     {{-kX, -kY + kGap}, {-kX, -kGap}},
                                     {{-kX + kGap, 0}, {kX - kGap, 0}}}};
  const Point a = slanted(ends[n].from.x, ends[n].from.y);
  const Point b = slanted(ends[n].to.x, ends[n].to.y);
  // A bar with pointed ends.
  const Point along = (b - a) * (1 / std::max(std::abs(b.x - a.x), std::abs(b.y - a.y)));
  const Point across = Point{-along.y, along.x} * (kStrokeMm / 2);
  const Point tip = along * (kStrokeMm / 2);
  const std::array<Point, 6> corners = {a - tip, a + across, b + across,
                                        b + tip, b - across, a - across};
  return polygon(corners);
}

Light as_light(const RgbLight& light) {
  return {static_cast<float>(light.red), static_cast<float>(light.green),
          static_cast<float>(light.blue)};
}

Point digit_at(const FacePart& part, int digit) {
  const float first = -kPitchMm * static_cast<float>(part.output->digits.count - 1) / 2;
  return part.middle + Point{first + kPitchMm * static_cast<float>(digit), 0};
}

void paint_glass(Canvas& canvas, const FacePart& part) {
  const Extent body = grown(part.body, -0.2F);
  const Shape frame = rounded(body, 1.6F);
  const Shape glass = rounded(grown(body, -1.2F), 0.8F);
  const Light hue = as_light(hue_light(part.output->colour));
  const Light smoke = mixed_light(hue * 0.012F, light_of(0x141010), 0.5F);
  canvas.shadow(frame, {.height = 1.6F, .strength = 0.5F, .contact = 0.45F});
  canvas.fill(frame, {.colour = light_of(0x24211E),
                      .shine = 0.35F,
                      .roughness = 0.4F,
                      .height = rounded_edge(1.0F, 0.7F)});
  canvas.fill(glass, smoke);
  for (int digit = 0; digit < part.output->digits.count; ++digit) {
    for (std::size_t n = 0; n < kSegments; ++n)
      canvas.fill(moved(segment(n), digit_at(part, digit)), hue * 0.05F + smoke, 0.8F);
  }
  canvas.recess(glass, {.height = 1.0F, .strength = 0.6F, .contact = 0.5F});
  // The room in the glass: a faint bright slope along its upper edge.
  const float top = body.top + 1.2F;
  const float tall = body.height() - 2.4F;
  canvas.fill(
      glass,
      {.colour = light_of(0xDDE8EE), .opacity = 0.035F, .alpha = [top, tall](const Point& at) {
         const float share = 1 - (at.y - top) / (tall * 0.45F);
         return share <= 0 ? 0.0F : std::min(1.0F, share * share);
       }});
}

std::vector<Sprite> segment_sprites(const FacePart& part, float pixels_per_mm) {
  const Light hue = as_light(hue_light(part.output->colour));
  std::vector<Sprite> sprites;
  for (std::size_t n = 0; n < kSegments; ++n) {
    const Shape shape = segment(n);
    Canvas canvas(grown(shape.extent(), kGlowMm + 0.2F), pixels_per_mm);
    canvas.fill(grown(shape, kGlowMm), {.colour = hue, .alpha = [shape](const Point& at) {
                                          const float away =
                                              std::clamp(shape.distance(at) / kGlowMm, 0.0F, 1.0F);
                                          return 0.34F * (1 - away) * (1 - away);
                                        }});
    canvas.fill(shape, hue);
    canvas.fill(grown(shape, -0.4F), mixed_light(hue, {1, 0.9F, 0.8F}, 0.22F), 0.8F);
    sprites.push_back(sprite_of(canvas));
  }
  return sprites;
}

std::string colour_of(const FacePart& part) {
  return part.output->colour;
}

void draw_digits(FaceDrawing& drawing, const FacePart& part, const PartState& state) {
  const DigitRow row = digits_shown(state.number(part), *part.output);
  for (int digit = 0; digit < row.count; ++digit) {
    const unsigned lit = row.segments[static_cast<std::size_t>(digit)];
    for (std::size_t n = 0; n < kSegments; ++n) {
      if ((lit >> n & 1U) != 0) drawing.sprite(n, digit_at(part, digit));
    }
  }
}

}  // namespace

PartLook digits_look() {
  return {.paint_base = paint_glass,
          .paint_sprites = segment_sprites,
          .sprite_key = colour_of,
          .draw = draw_digits};
}

}  // namespace understudy
