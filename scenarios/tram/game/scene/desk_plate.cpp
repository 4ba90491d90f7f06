// Paints the enamelled plate with its engraved scales.
#include "scenarios/tram/game/scene/desk_plate.h"

#include <algorithm>
#include <cmath>

#include "scenarios/tram/game/scene/view.h"

namespace understudy::tram {

namespace {

constexpr int kPlateHeight = kSceneHeight - kDesk_y;

void engrave_dial(Painter& painter) {
  const Spot centre{kDial.x, kDial.y - kDesk_y};
  painter.disc(centre, kDialRadius + 8, {16, 30, 27});
  painter.disc(centre, kDialRadius + 5, {196, 186, 158});
  painter.disc(centre, kDialRadius + 2, {19, 24, 26});
  for (int kmh = 0; kmh <= static_cast<int>(kDialTop_kmh); kmh += 5) {
    const double turn = dial_angle(kmh) / 57.29578;
    const Spot way{std::sin(turn), -std::cos(turn)};
    const double inner = kmh % 10 == 0 ? kDialRadius - 11 : kDialRadius - 7;
    painter.line({centre.x + way.x * inner, centre.y + way.y * inner},
                 {centre.x + way.x * (kDialRadius - 2), centre.y + way.y * (kDialRadius - 2)},
                 kmh % 10 == 0 ? 2.2 : 1.2, colour::kCream);
  }
}

void engrave_handle(Painter& painter) {
  const auto zone = [&](int from, int to, Colour colour) {
    const double top = handle_y(to) - kDesk_y;
    painter.rect({kHandleSlot.x + 22, top, 5, handle_y(from) - kDesk_y - top}, colour);
  };
  zone(0, 30, colour::kRed);
  zone(32, 470, {206, 118, 70});
  zone(474, 550, colour::kCream);
  zone(554, 1023, {96, 186, 140});
  painter.rounded({kHandleSlot.x, kHandleSlot.y - kDesk_y, kHandleSlot.width, kHandleSlot.height},
                  7, {10, 16, 15});
}

}  // namespace

double dial_angle(double kmh) {
  return kDialFrom + kDialSwing * std::clamp(kmh / kDialTop_kmh, 0.0, 1.05);
}

double handle_y(int wire_number) {
  const double share = std::clamp(wire_number, 0, kPotTop) / static_cast<double>(kPotTop);
  return kHandleSlot.y + 6 + (1.0 - share) * (kHandleSlot.height - 12);
}

Picture paint_plate(SDL_Renderer* renderer) {
  Painter painter(kSceneWidth, kPlateHeight);
  painter.gradient({0, 0, kSceneWidth, kPlateHeight}, mix(colour::kEnamel, colour::kCream, 0.10),
                   mix(colour::kEnamel, colour::kDark, 0.35));
  painter.grain(4);
  painter.rect({0, 0, kSceneWidth, 2}, {120, 132, 116});
  painter.rect({0, 2, kSceneWidth, 2}, {14, 26, 23});
  for (const double x : {186.0, 350.0, 778.0, 1010.0}) {
    painter.rect({x, 14, 1, kPlateHeight - 42}, {14, 28, 24});
    painter.rect({x + 1, 14, 1, kPlateHeight - 42}, {86, 108, 94, 120});
  }
  painter.rect({0, kPlateHeight - 22, kSceneWidth, 22}, {12, 22, 20, 200});
  engrave_dial(painter);
  engrave_handle(painter);
  return painter.picture(renderer, Painter::Blend::cover);
}

Picture paint_needle(SDL_Renderer* renderer) {
  Painter painter(12, 124);  // points upwards; turns about its middle
  painter.polygon({{6, 8}, {8.2, 62}, {3.8, 62}}, colour::kRed);
  painter.line({6, 62}, {6, 76}, 3, colour::kRed);
  painter.disc({6, 62}, 5, {200, 190, 164});
  return painter.picture(renderer);
}

Picture paint_grip(SDL_Renderer* renderer) {
  Painter painter(44, 16);
  painter.rounded({1, 2, 42, 13}, 6, {8, 12, 12, 150});
  painter.rounded({1, 0, 42, 13}, 6, {222, 212, 184});
  painter.rect({8, 6, 28, 1.5}, {96, 88, 72});
  return painter.picture(renderer);
}

Picture paint_lens(SDL_Renderer* renderer) {
  Painter painter(40, 40);
  painter.disc({20, 20}, 19, {190, 180, 152});
  painter.disc({20, 20}, 16, {12, 18, 18});
  painter.disc({20, 20}, 14, {44, 48, 48});
  painter.disc({15, 14}, 3, {110, 114, 112, 120});
  return painter.picture(renderer);
}

}  // namespace understudy::tram
