// A selector: a pointer knob that clicks from place to place, each with its word or number.
#include <algorithm>
#include <string>

#include "sim/model/kinds.h"
#include "sim/window/face_knobs.h"

namespace understudy {
namespace {

constexpr float kKnobMm = 7.2F;
constexpr float kBeakMm = 2.6F;

float place_deg(const FacePart& part, int place) {
  return pointer_deg(*part.control, place_ppm(place, part.control->selector.places));
}

void paint_base(Canvas& canvas, const FacePart& part) {
  for (int i = 0; i < part.control->selector.places; ++i) {
    paint_mark(canvas, part.middle, 10.2F, 11.5F, place_deg(part, i), 0.5F);
  }
}

std::vector<Sprite> paint_sprites(const FacePart&, float scale) {
  return paint_knob({.radius = kKnobMm, .pointer_mm = kBeakMm}, scale);
}

std::string word_of(const FacePart& part, int place) {
  const Sends& sends = part.control->sends;
  const auto i = static_cast<std::size_t>(place);
  return i < sends.words.size() ? sends.words[i] : std::to_string(place + 1);
}

void draw(FaceDrawing& drawing, const FacePart& part, const PartState& state) {
  const int places = part.control->selector.places;
  for (int i = 0; i < places; ++i) {
    const std::string word = word_of(part, i);
    const float radius = word.size() > 2 ? 13.8F : 13.5F;
    const float width = places > 6 ? 4.0F : 6.5F;
    drawing.engraved(at_angle(part.middle, radius, place_deg(part, i)),
                     drawing.readable(kLegendMm * 0.95F, 1.5F * kLegendMm), word, width);
  }
  const auto ppm = static_cast<std::int32_t>(state.position(part) * 1e6F);
  draw_knob(drawing, part.middle, pointer_deg(*part.control, ppm), state.marks);
}

}  // namespace

PartLook selector_look() {
  return {.paint_base = paint_base, .paint_sprites = paint_sprites, .draw = draw};
}

}  // namespace understudy
