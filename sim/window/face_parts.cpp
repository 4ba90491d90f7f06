// The table of looks, and what their files share.
#include "sim/window/face_parts.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include "sim/model/kinds.h"

namespace understudy {
namespace {

// In the order of the enumerations.
const std::array<PartLook, 7>& control_looks() {
  static const std::array<PartLook, 7> looks = {pot_look(),      button_look(), switch_look(),
                                                selector_look(), stick_look(),  encoder_look(),
                                                sensor_look()};
  return looks;
}

const std::array<PartLook, 5>& output_looks() {
  static const std::array<PartLook, 5> looks = {lamp_look(), rgb_look(), gauge_look(),
                                                buzzer_look(), digits_look()};
  return looks;
}

int field_of(const std::vector<FieldSource>& sources, std::size_t part_of, std::size_t part) {
  for (std::size_t i = 0; i < sources.size(); ++i) {
    if (sources[i].part_of == part_of && sources[i].part == part) return static_cast<int>(i);
  }
  return -1;
}

}  // namespace

const PartLook& look_of(ControlKind kind) {
  return control_looks()[static_cast<std::size_t>(kind)];
}

const PartLook& look_of(OutputKind kind) {
  return output_looks()[static_cast<std::size_t>(kind)];
}

float PartState::position(const FacePart& part, std::size_t hand_part) const {
  if (part.control == nullptr || hand_part >= hand_parts(*part.control).size()) return 0;
  const double ppm = seat.device.position_ppm(part.id.index, hand_part);
  return static_cast<float>(ppm / 1e6);
}

std::int64_t PartState::number(const FacePart& part, std::size_t line_part) const {
  const Panel& panel = seat.device.panel();
  const std::vector<FieldSource>& sources =
      part.id.output ? panel.to_panel_sources : panel.to_game_sources;
  const int field = field_of(sources, part.id.index, line_part);
  if (field < 0) return 0;
  const auto i = static_cast<std::size_t>(field);
  return part.id.output ? seat.device.output_number(i) : seat.device.field_number(i);
}

float PartState::share(const FacePart& part, std::size_t line_part) const {
  const Sends& sends =
      part.id.output ? sends_of(*part.output, line_part) : sends_of(*part.control, line_part);
  const auto range = static_cast<double>(sends.high - sends.low);
  if (range == 0) return 0;
  const auto above = static_cast<double>(number(part, line_part) - sends.low);
  return static_cast<float>(std::clamp(above / range, 0.0, 1.0));
}

std::int64_t PartState::needle_mdeg(const FacePart& part) const {
  return seat.device.powered().needle_mdeg(seat.device.now(), part.id.index);
}

Sprite sprite_of(const Canvas& canvas) {
  const Extent& wanted = canvas.extent();
  const float right = wanted.left + static_cast<float>(canvas.width()) * canvas.pixel();
  const float bottom = wanted.top + static_cast<float>(canvas.height()) * canvas.pixel();
  return {canvas.bitmap(), {wanted.left, wanted.top, right, bottom}};
}

void FaceDrawing::sprite(std::size_t n, const Point& at, float degrees, ImU32 tint) {
  if (sprites_ == nullptr || n >= sprites_->size()) return;
  const KeptSprite& kept = (*sprites_)[n];
  if (kept.texture == nullptr) return;
  const Extent e = moved(kept.extent, at);
  if (degrees == 0) {  // on whole pixels it is as sharp as it was painted
    const ImVec2 exact = px(Point{e.left, e.top});
    const ImVec2 corner(std::round(exact.x), std::round(exact.y));
    const ImVec2 size(std::round(px(e.width())), std::round(px(e.height())));
    list_.AddImage(kept.texture, corner, {corner.x + size.x, corner.y + size.y}, {0, 0}, {1, 1},
                   tint);
    return;
  }
  const float angle = degrees * std::numbers::pi_v<float> / 180;
  const float cosine = std::cos(angle);
  const float sine = std::sin(angle);
  const auto corner = [&](float x, float y) {
    const Point q = Point{x, y} - at;
    return px(at + Point{q.x * cosine - q.y * sine, q.y * cosine + q.x * sine});
  };
  list_.AddImageQuad(kept.texture, corner(e.left, e.top), corner(e.right, e.top),
                     corner(e.right, e.bottom), corner(e.left, e.bottom), {0, 0}, {1, 0}, {1, 1},
                     {0, 1}, tint);
}

void FaceDrawing::sprite_grown(std::size_t n, const Point& at, float grow, ImU32 tint) {
  if (sprites_ == nullptr || n >= sprites_->size()) return;
  const KeptSprite& kept = (*sprites_)[n];
  if (kept.texture == nullptr) return;
  const Extent& e = kept.extent;
  list_.AddImage(kept.texture, px(at + Point{e.left, e.top} * grow),
                 px(at + Point{e.right, e.bottom} * grow), {0, 0}, {1, 1}, tint);
}

float FaceDrawing::readable(float mm, float most_mm) const {
  constexpr float kReadablePx = 10.5F;
  return std::max(mm, std::min(most_mm, kReadablePx * type_.unit / scale()));
}

void FaceDrawing::text(const Point& middle, float height, std::string_view text, ImU32 colour,
                       float width) {
  ImFont* font = type_.engraved;
  if (font == nullptr || text.empty()) return;
  const char* begin = text.data();
  const char* end = begin + text.size();
  float pixels = px(height);
  // As baked where that is nearly what is wanted: sharp.
  if (std::abs(pixels - font->FontSize) < 0.75F) pixels = font->FontSize;
  ImVec2 size = font->CalcTextSizeA(pixels, FLT_MAX, 0, begin, end);
  if (size.x > px(width)) {
    pixels *= px(width) / size.x;
    size = font->CalcTextSizeA(pixels, FLT_MAX, 0, begin, end);
  }
  const ImVec2 at = px(middle);
  list_.AddText(font, pixels, {std::round(at.x - size.x / 2), std::round(at.y - size.y / 2)},
                colour, begin, end);
}

void FaceDrawing::engraved(const Point& middle, float height, std::string_view text, float width) {
  const float step = std::max(1.0F, std::round(px(0.1F))) / scale();
  this->text({middle.x, middle.y - step}, height, text, IM_COL32(8, 22, 14, 170), width);
  this->text({middle.x, middle.y + step}, height, text, IM_COL32(205, 230, 210, 60), width);
  this->text(middle, height, text, kCreamInk, width);
}

void paint_screw(Canvas& canvas, const Point& middle, float radius, float degrees) {
  const Shape head = circle(middle, radius);
  canvas.shadow(grown(head, 0.25F), {.height = 0.5F, .strength = 0.35F, .contact = 0.5F});
  canvas.fill(grown(head, 0.3F), light_of(0x101410), 0.55F);
  canvas.fill(head, {.colour = light_of(paints::kNickel),
                     .shine = 0.55F,
                     .roughness = 0.4F,
                     .metal = true,
                     .height = dome(middle, radius, radius * 0.28F),
                     .tone = turned_metal(middle, 0.16F)});
  const Point reach = at_angle({}, radius * 0.86F, degrees);
  const Shape slot = common(capsule(middle - reach, middle + reach, radius * 0.13F), head);
  canvas.fill(moved(slot, {radius * 0.07F, radius * 0.09F}), light_of(0xF4F0E4), 0.55F);
  canvas.fill(slot, light_of(0x1A1814), 0.92F);
}

void paint_nut(Canvas& canvas, const Point& middle, float across, float bore) {
  const float radius = across / 2;
  const Shape washer = circle(middle, radius * 1.24F);
  canvas.shadow(washer, {.height = 0.7F, .strength = 0.45F, .contact = 0.45F});
  canvas.fill(washer, {.colour = light_of(paints::kNickel) * 0.8F,
                       .shine = 0.4F,
                       .roughness = 0.4F,
                       .metal = true,
                       .height = rounded_edge(0.35F, 0.25F),
                       .tone = turned_metal(middle, 0.3F)});
  std::array<Point, 6> corners;
  for (std::size_t i = 0; i < corners.size(); ++i) {
    corners[i] = at_angle(middle, radius * 1.1547F, 60 * static_cast<float>(i) + 20);
  }
  const Shape nut = common(polygon(corners), circle(middle, radius * 1.08F));
  canvas.shadow(nut, {.height = 1.3F, .strength = 0.5F, .contact = 0.4F});
  canvas.fill(nut, {.colour = light_of(paints::kNickel),
                    .shine = 0.6F,
                    .roughness = 0.34F,
                    .metal = true,
                    .height = bevel(0.6F, 0.42F),
                    .tone = turned_metal(middle, 0.2F)});
  const Shape hole = circle(middle, bore);
  canvas.fill(hole, light_of(0x14120F));
  canvas.recess(hole, {.height = 1, .strength = 0.5F});
}

void paint_bezel(Canvas& canvas, const Point& middle, float radius, float width) {
  const Shape outside = circle(middle, radius + width);
  canvas.shadow(outside, {.height = 1.2F, .strength = 0.5F, .contact = 0.45F});
  canvas.fill(cut(outside, circle(middle, radius)),
              {.colour = light_of(paints::kNickel),
               .shine = 0.6F,
               .roughness = 0.32F,
               .metal = true,
               .height = rounded_edge(width / 2, width * 0.55F),
               .tone = turned_metal(middle, 0.15F)});
}

void paint_mark(Canvas& canvas, const Point& middle, float from, float to, float degrees,
                float width) {
  canvas.engrave(capsule(at_angle(middle, from, degrees), at_angle(middle, to, degrees),
                         std::max(width, 0.9F * canvas.pixel()) / 2),
                 light_of(paints::kCream));
}

}  // namespace understudy
