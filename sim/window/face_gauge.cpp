// A cream dial under glass with a black scale, and a needle that swings over it on its own shadow.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "sim/window/face_parts.h"
#include "sim/window/gauge_scale.h"

namespace understudy {
namespace {

constexpr float kRimMm = 2.2F;  // of the case around the dial
constexpr float kCapMm = 2.7F;
constexpr float kTailMm = 5.0F;  // of the needle behind its pivot
constexpr float kNumberMm = 4.2F;
constexpr ImU32 kDialInk = IM_COL32(0x26, 0x22, 0x1C, 0xFF);

// Where the needle turns and how far its scale reaches, for the sweep that the panel gives.
struct Dial {
  Point pivot;
  float radius = 0;  // of the scale's outer edge
  float sweep_deg = 0;
  float name_y = 0;  // of the middle of its name
};

Dial dial_of(const FacePart& part) {
  const float sweep = static_cast<float>(part.output->gauge.sweep_mdeg) / 1'000;
  const Extent card = grown(part.body, -kRimMm - 1.6F);
  const float half = std::min(sweep / 2, 179.0F) * std::numbers::pi_v<float> / 180;
  const float side = sweep >= 180 ? 1.0F : std::sin(half);
  // How far the scale hangs below the pivot, for each millimetre of radius.
  const float below = std::max(0.0F, -std::cos(half));
  const bool round = below > 0.15F;
  // Its name stands above the scale, where no needle passes; of a round one in the gap below.
  const float room_above = round ? 0 : kLegendMm + 1.4F;
  const float room_below = round ? 0 : kCapMm + 1.4F;
  const float radius = std::min(card.width() / 2 / side, (card.height() - room_above - room_below) /
                                                             (1 + (round ? below : 0)));
  const Point pivot = {part.middle.x, card.bottom - std::max(room_below, below * radius)};
  const float name_y = round ? pivot.y + 0.5F * radius : (card.top + pivot.y - radius) / 2 - 0.4F;
  return {.pivot = pivot, .radius = radius, .sweep_deg = sweep, .name_y = name_y};
}

float angle_of(const Dial& dial, double share) {
  return dial.sweep_deg * (static_cast<float>(share) - 0.5F);
}

void paint_scale(Canvas& canvas, const FacePart& part, const Dial& dial) {
  const Light ink = light_of(paints::kInk);
  const float hair = 0.8F * canvas.pixel();
  const float half = dial.sweep_deg / 2;
  canvas.fill(arc(dial.pivot, dial.radius - 0.2F, std::max(0.35F, hair), -half, half), ink);
  for (const GaugeMark& mark : marks_of(part.output->sends)) {
    const float angle = angle_of(dial, mark.share);
    const float length = mark.main ? 3.2F : 1.8F;
    const float width = std::max(mark.main ? 0.55F : 0.3F, hair);
    canvas.fill(capsule(at_angle(dial.pivot, dial.radius - 0.2F, angle),
                        at_angle(dial.pivot, dial.radius - length, angle), width / 2),
                ink);
  }
}

void paint_dial(Canvas& canvas, const FacePart& part) {
  const Extent body = grown(part.body, -0.2F);
  const Shape rim = rounded(body, 4.5F);
  const Shape card = rounded(grown(body, -kRimMm), 2.8F);
  canvas.shadow(rim, {.height = 3, .strength = 0.5F, .contact = 0.45F});
  canvas.fill(rim, {.colour = light_of(paints::kBakelite),
                    .shine = 0.45F,
                    .roughness = 0.35F,
                    .height = rounded_edge(kRimMm, 1.5F)});
  canvas.fill(card, {.colour = light_of(paints::kDial), .tone = clouded(9, 0.02F, 3)});
  paint_scale(canvas, part, dial_of(part));
  canvas.recess(card, {.height = 2.2F, .strength = 0.38F, .contact = 0.4F});
  // The room in the glass: one broad oblique band, hardly there.
  const Point middle = part.middle;
  canvas.fill(card,
              {.colour = light_of(0xFFFFFF), .opacity = 0.1F, .alpha = [middle](const Point& at) {
                 const float along = at.x - middle.x + 0.55F * (at.y - middle.y) + 13;
                 return std::clamp(1.4F - std::abs(along) / 6, 0.0F, 1.0F);
               }});
}

Shape needle_shape(float length) {
  const std::array<Point, 6> corners = {Point{-0.16F, -length}, {0.16F, -length},  {0.62F, 0},
                                        {0.85F, kTailMm},       {-0.85F, kTailMm}, {-0.62F, 0}};
  return polygon(corners);
}

std::vector<Sprite> needle_sprites(const FacePart& part, float pixels_per_mm) {
  const float length = dial_of(part).radius - 1.6F;
  const Shape needle = needle_shape(length);
  Canvas dark(grown(needle.extent(), 1.2F), pixels_per_mm);
  dark.fill(grown(needle, 0.9F), {.colour = light_of(0x2A2014), .alpha = [needle](const Point& at) {
                                    return 0.36F * std::clamp(0.6F - needle.distance(at) / 1.5F,
                                                              0.0F, 1.0F);
                                  }});
  Canvas blade(grown(needle.extent(), 0.6F), pixels_per_mm);
  // No thinner than a pixel, or its tip would break up.
  blade.fill(grown(needle, std::max(0.0F, 0.5F * blade.pixel() - 0.16F)), light_of(0x1C1815));
  Canvas cap(around({}, 2 * kCapMm + 4, 2 * kCapMm + 4), pixels_per_mm);
  cap.shadow(circle({}, kCapMm), {.height = 1.4F, .strength = 0.45F, .contact = 0.4F});
  cap.fill(circle({}, kCapMm), {.colour = light_of(paints::kBakelite),
                                .shine = 0.5F,
                                .roughness = 0.35F,
                                .height = dome({}, kCapMm, 1.3F)});
  return {sprite_of(dark), sprite_of(blade), sprite_of(cap)};
}

std::string shape_of(const FacePart& part) {
  return fmt::format("{}", part.output->gauge.sweep_mdeg);
}

void draw_numbers(FaceDrawing& drawing, const FacePart& part, const Dial& dial) {
  const std::vector<GaugeMark> marks = marks_of(part.output->sends);
  const auto named =
      std::count_if(marks.begin(), marks.end(), [](const GaugeMark& mark) { return mark.main; });
  const float inner = dial.radius - 6.0F;
  const float apart = inner * dial.sweep_deg * std::numbers::pi_v<float> / 180 /
                      static_cast<float>(std::max<std::ptrdiff_t>(1, named - 1));
  for (const GaugeMark& mark : marks) {
    if (!mark.main) continue;
    const float angle = angle_of(dial, mark.share);
    Point at = at_angle(dial.pivot, inner, angle);
    // A needle that lies flat would strike out the numbers at the ends.
    const float flat = std::abs(std::sin(angle * std::numbers::pi_v<float> / 180));
    const float height = drawing.readable(kNumberMm, 1.5F * kNumberMm);
    if (flat > 0.97F) at.y -= height * 0.62F;
    drawing.text(at, height, mark.text, kDialInk, std::max(3.0F, apart * 0.9F));
  }
}

void draw_gauge(FaceDrawing& drawing, const FacePart& part, const PartState& state) {
  const Dial dial = dial_of(part);
  draw_numbers(drawing, part, dial);
  drawing.text({dial.pivot.x, dial.name_y}, drawing.readable(kLegendMm, 1.25F * kLegendMm),
               legend_text(part.output->name), kDialInk,
               dial.sweep_deg > 200 ? dial.radius * 1.2F : part.body.width() - 12);
  const auto mdeg = static_cast<float>(state.needle_mdeg(part));
  const float angle = mdeg / 1'000 - dial.sweep_deg / 2;
  drawing.sprite(0, dial.pivot + Point{0.55F, 0.75F}, angle);
  drawing.sprite(1, dial.pivot, angle == 0 ? 0.001F : angle);
  drawing.sprite(2, dial.pivot);
}

}  // namespace

PartLook gauge_look() {
  return {.paint_base = paint_dial,
          .paint_sprites = needle_sprites,
          .sprite_key = shape_of,
          .draw = draw_gauge,
          .writes_legend = true};
}

}  // namespace understudy
