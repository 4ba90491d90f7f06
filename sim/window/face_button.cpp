// A push button: a coloured cap in a nickel collar, which sinks as it is pressed.
#include <algorithm>
#include <array>
#include <string_view>
#include <utility>

#include "sim/window/face_parts.h"

namespace understudy {
namespace {

constexpr float kCapMm = 5.6F;

// Named for a colour, it has that colour; else ivory, red and black take turns down the panel.
std::uint32_t cap_colour(const FacePart& part) {
  constexpr std::array<std::pair<std::string_view, std::uint32_t>, 7> kNamed = {
      {{"red", 0xA3231A},
       {"blue", 0x1F4E8C},
       {"green", 0x2E7040},
       {"yellow", 0xD9A520},
       {"white", 0xECE6D6},
       {"black", 0x242221},
       {"amber", 0xC97C18}}};
  for (const auto& [word, colour] : kNamed) {
    if (part.control->name.find(word) != std::string::npos) return colour;
  }
  if (part.control->cell.given()) return paints::kIvory;  // keys of one keyboard are alike
  constexpr std::array<std::uint32_t, 3> kCaps = {paints::kRed, paints::kIvory, 0x242221};
  return kCaps[part.id.index % kCaps.size()];
}

void paint_base(Canvas& canvas, const FacePart& part) {
  paint_bezel(canvas, part.middle, kCapMm + 0.55F, 1.75F);
  const Shape well = circle(part.middle, kCapMm + 0.6F);
  canvas.fill(well, light_of(0x0D0C0B));
  canvas.recess(well, {.height = 1.5F, .strength = 0.7F});
}

std::vector<Sprite> paint_sprites(const FacePart& part, float scale) {
  const Light colour = light_of(cap_colour(part));
  Canvas shadow(around({}, 2 * kCapMm + 14, 2 * kCapMm + 14), scale);
  shadow.shadow(circle({}, kCapMm), {.height = 4, .strength = 0.55F, .contact = 0.4F});
  Canvas cap(around({}, 2 * kCapMm + 2, 2 * kCapMm + 2), scale);
  cap.fill(circle({}, kCapMm), {.colour = colour,
                                .shine = 0.5F,
                                .roughness = 0.34F,
                                .height = rounded_edge(1.7F, 1.25F),
                                .tone = clouded(4, 0.05F, 11)});
  cap.fill(circle({}, kCapMm * 0.7F), {.colour = colour * 1.04F,
                                       .opacity = 0.9F,
                                       .shine = 0.4F,
                                       .roughness = 0.3F,
                                       .height = dished(kCapMm * 0.7F, 0.7F)});
  return {sprite_of(shadow), sprite_of(cap)};
}

std::string sprite_key(const FacePart& part) {
  return std::to_string(cap_colour(part));
}

void draw(FaceDrawing& drawing, const FacePart& part, const PartState& state) {
  const float down = std::clamp(state.position(part), 0.0F, 1.0F);
  const auto fading = static_cast<int>(255 - 190 * down);
  const int light = static_cast<int>(255 - 62 * down);
  drawing.sprite_grown(0, part.middle + Point{-0.9F, -1.2F} * down, 1 - 0.14F * down,
                       IM_COL32(255, 255, 255, fading));
  drawing.sprite_grown(1, part.middle + Point{0.12F, 0.2F} * down, 1 - 0.06F * down,
                       IM_COL32(light, light, light, 255));
}

}  // namespace

PartLook button_look() {
  return {.paint_base = paint_base,
          .paint_sprites = paint_sprites,
          .sprite_key = sprite_key,
          .draw = draw};
}

}  // namespace understudy
