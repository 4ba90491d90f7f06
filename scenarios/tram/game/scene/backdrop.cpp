// Paints sky, skyline and roofs once; each frame slides them past at their own pace.
#include "scenarios/tram/game/scene/backdrop.h"

#include <algorithm>
#include <cmath>

#include "scenarios/tram/game/rules/chance.h"

namespace understudy::tram {

namespace {

constexpr int kSkylineWidth = 1920;
constexpr int kSkylineHeight = 210;
constexpr int kRoofsWidth = 2200;
constexpr int kRoofsHeight = 240;
constexpr double kSkylinePace = 0.06;
constexpr double kRoofsPace = 0.30;

Picture paint_sky(SDL_Renderer* renderer) {
  Painter painter(kSceneWidth, kRail_y);
  painter.gradient({0, 0, kSceneWidth, 250}, {7, 11, 26}, {22, 29, 56});
  painter.gradient({0, 250, kSceneWidth, kRail_y - 250}, {22, 29, 56}, {66, 54, 72});
  Chance chance(11);
  for (int star = 0; star < 70; ++star) {
    const Spot at{chance.between(0, kSceneWidth), chance.between(60, 260)};
    painter.disc(at, chance.between(0.5, 1.1),
                 colour::kWhite.with_alpha(static_cast<int>(chance.between(40, 150))));
  }
  painter.glow({1010, 130}, 150, {150, 170, 210, 60});
  painter.disc({1010, 130}, 24, {226, 226, 208});
  painter.disc({1002, 124}, 5, {206, 206, 192});
  painter.disc({1017, 137}, 7, {210, 210, 196});
  for (int cloud = 0; cloud < 26; ++cloud) {
    const Spot at{chance.between(-80, kSceneWidth + 80), chance.between(90, 240)};
    const double half = chance.between(90, 240);
    for (int puff = 0; puff < 7; ++puff) {
      painter.glow({at.x + half * chance.between(-0.8, 0.8), at.y + chance.between(-12, 12)},
                   half * 0.4, {46, 52, 82, 60});
    }
  }
  return painter.picture(renderer, Painter::Blend::cover);
}

Picture paint_overcast(SDL_Renderer* renderer) {
  Painter painter(kSceneWidth, kRail_y);
  painter.gradient({0, 0, kSceneWidth, 250}, {14, 18, 34}, {34, 40, 62});
  painter.gradient({0, 250, kSceneWidth, kRail_y - 250}, {34, 40, 62}, {58, 56, 72});
  Chance chance(17);
  for (int puff = 0; puff < 60; ++puff) {
    const Spot at{chance.between(-60, kSceneWidth + 60), chance.between(30, 270)};
    const double half = chance.between(60, 170);
    const Colour tone = mix({52, 58, 84, 60}, {22, 26, 46, 60}, chance.share());
    painter.glow({at.x - half, at.y - half / 3, 2 * half, half * 2 / 3}, tone);
  }
  return painter.picture(renderer);
}

void window_grid(Painter& painter, Chance& chance, const Box& house, double lit) {
  for (double y = house.y + 10; y < house.y + house.height - 14; y += 15) {
    for (double x = house.x + 7; x < house.x + house.width - 9; x += 13) {
      if (chance.share() > lit) continue;
      const Colour warm = mix(colour::kWindow, {190, 210, 230}, chance.share() * 0.5);
      painter.rect({x, y, 5, 7}, warm.with_alpha(static_cast<int>(chance.between(70, 190))));
    }
  }
}

Picture paint_skyline(SDL_Renderer* renderer) {
  Painter painter(kSkylineWidth, kSkylineHeight);
  Chance chance(5);
  const Colour stone{30, 34, 62};
  for (double x = 0; x < kSkylineWidth - 30;) {
    const double width = std::min(chance.between(40, 110), kSkylineWidth - x);
    const double height = chance.between(50, 130);
    const Box house{x, kSkylineHeight - height, width, height};
    painter.rect(house, stone);
    window_grid(painter, chance, house, 0.16);
    x += width;
  }
  painter.rect({420, 60, 26, 150}, stone);  // a church tower
  painter.polygon({{416, 62}, {433, 8}, {450, 62}}, stone);
  painter.rect({1000, 100, 110, 110}, stone);  // the observatory
  painter.disc({1055, 102}, 46, stone);
  painter.line({1062, 96}, {1094, 62}, 7, stone);
  for (const double crane : {1480.0, 1600.0}) {  // the harbour
    painter.rect({crane, 44, 9, 166}, stone);
    painter.line({crane - 30, 52}, {crane + 96, 40}, 5, stone);
    painter.line({crane + 4, 26}, {crane + 92, 40}, 2, stone);
    painter.disc({crane + 4, 26}, 2.0, {255, 90, 70, 200});
  }
  return painter.picture(renderer);
}

Picture paint_roofs(SDL_Renderer* renderer) {
  Painter painter(kRoofsWidth, kRoofsHeight);
  Chance chance(8);
  for (double x = 0; x < kRoofsWidth - 40;) {
    const double width = std::min(chance.between(90, 170), kRoofsWidth - x);
    const double height = chance.between(90, 165);
    const double top = kRoofsHeight - height;
    const Colour stone = mix({19, 23, 44}, {27, 25, 44}, chance.share());
    painter.rect({x, top, width, height}, stone);
    const double ridge = top - chance.between(18, 46);
    painter.polygon({{x - 3, top + 1}, {x + width / 2, ridge}, {x + width + 3, top + 1}}, stone);
    painter.rect({x + width * 0.7, ridge + 2, 12, 34}, stone);
    window_grid(painter, chance, {x + 4, top, width - 8, height}, 0.24);
    x += width;
  }
  return painter.picture(renderer);
}

void slide(const View& view, const Picture& layer, double y, double pace) {
  double x = -std::fmod(view.front_m * kPixelsPerMetre * pace, layer.width);
  for (; x < kSceneWidth; x += layer.width) layer.draw(view.renderer, x, y);
}

}  // namespace

Backdrop::Backdrop(SDL_Renderer* renderer)
    : sky_(paint_sky(renderer)),
      overcast_(paint_overcast(renderer)),
      skyline_(paint_skyline(renderer)),
      roofs_(paint_roofs(renderer)) {}

void Backdrop::draw(const View& view) const {
  const Weather& weather = view.shift().weather();
  if (weather.fog >= 1.0) return;  // nothing of it can be seen
  const double clouds = std::max({weather.rain, weather.snow, weather.fog});
  if (clouds < 1.0) sky_.draw(view.renderer, 0, 0);
  overcast_.draw_covering(view.renderer, 0, 0, clouds);
  slide(view, skyline_, kRail_y - 30 - kSkylineHeight, kSkylinePace);
  slide(view, roofs_, kRail_y - 14 - kRoofsHeight, kRoofsPace);
}

}  // namespace understudy::tram
