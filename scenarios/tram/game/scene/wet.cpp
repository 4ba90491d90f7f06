// The mirror is the street's own picture, copied row by row upside down; each row is shifted a
// little, more the nearer it is, as ripples do.
#include "scenarios/tram/game/scene/wet.h"

#include <cmath>

#include "scenarios/tram/game/rules/chance.h"

namespace understudy::tram {

namespace {

constexpr int kRoadHeight = kDesk_y - kRail_y;
constexpr int kRowHeight = 2;
constexpr double kSquash = 2.1;  // the mirror is lower than what it shows
constexpr int kCobblesWidth = 960;

Picture paint_road(SDL_Renderer* renderer) {
  Painter painter(kSceneWidth, kRoadHeight);
  painter.gradient({0, 0, kSceneWidth, kRoadHeight}, {10, 13, 26, 90}, {6, 8, 17, 215});
  return painter.picture(renderer);
}

Picture paint_cobbles(SDL_Renderer* renderer) {
  Painter painter(kCobblesWidth, kRoadHeight);
  painter.gradient({0, 0, kCobblesWidth, kRoadHeight}, {34, 34, 46}, {16, 17, 27});
  Chance chance(21);
  double y = 3;
  for (int row = 0; y < kRoadHeight; ++row) {
    const double tall = 4.0 + 0.09 * y;
    const double wide = kCobblesWidth / std::floor(kCobblesWidth / (tall * 2.6));
    for (int stone = 0; stone * wide < kCobblesWidth; ++stone) {
      const double x = stone * wide + (row % 2) * wide / 2;
      const Colour tone = mix({40, 40, 54}, {26, 27, 40}, chance.share() * 0.7 + y / 350.0);
      painter.rounded({x + 1, y, wide - 2, tall - 1.5}, 2, tone);
    }
    y += tall;
  }
  return painter.picture(renderer);
}

Picture paint_snow(SDL_Renderer* renderer) {
  Painter painter(kSceneWidth, kRoadHeight);
  painter.gradient({0, 0, kSceneWidth, kRoadHeight}, {132, 140, 168, 235}, {60, 66, 92, 235});
  return painter.picture(renderer);
}

}  // namespace

Wet::Wet(SDL_Renderer* renderer)
    : road_(paint_road(renderer)), cobbles_(paint_cobbles(renderer)), snow_(paint_snow(renderer)) {}

void Wet::draw_mirror(const View& view, SDL_Texture* street) const {
  SDL_SetTextureBlendMode(street, SDL_BLENDMODE_NONE);
  const double rain = view.shift().weather().rain;
  for (int row = 0; row < kRoadHeight; row += kRowHeight) {
    const double depth = static_cast<double>(row) / kRoadHeight;
    const double ripple = (0.6 + 2.6 * depth) * std::sin(row * 0.21 + view.now_s * 1.3) +
                          1.4 * depth * std::sin(row * 0.67 - view.now_s * 2.1);
    const double shift = (0.3 + 0.7 * rain) * ripple;
    const int source = kRail_y - 1 - static_cast<int>(row * kSquash);
    const SDL_Rect from{0, source - 3, kSceneWidth, 4};
    const SDL_Rect to{static_cast<int>(std::lround(shift)), kRail_y + row, kSceneWidth, kRowHeight};
    SDL_RenderCopy(view.renderer, street, &from, &to);
  }
  road_.draw(view.renderer, 0, kRail_y);
}

void Wet::draw_road(const View& view, SDL_Texture* street) const {
  const Weather& weather = view.shift().weather();
  view.fill({0, kRail_y, kSceneWidth, kRoadHeight}, {9, 11, 22});
  draw_mirror(view, street);
  const double dry = 0.82 * (1.0 - std::max(weather.wet, 0.5 * weather.fog));
  double x = -std::fmod(view.front_m * kPixelsPerMetre, kCobblesWidth);
  for (; dry > 0.0 && x < kSceneWidth; x += kCobblesWidth) {
    cobbles_.draw_over(view.renderer, {x, kRail_y, kCobblesWidth, kRoadHeight}, colour::faded(dry));
  }
  if (weather.snow > 0.0) {
    snow_.draw_over(view.renderer, {0, kRail_y, kSceneWidth, kRoadHeight},
                    colour::faded(0.86 * weather.snow));
  }
  for (const double y : {kRail_y + 1.0, kRail_y + 15.0}) {  // the rails, edge on
    view.fill({0, y, kSceneWidth, 2}, {150, 160, 188, 190});
    view.fill({0, y + 2, kSceneWidth, 2}, {20, 22, 34, 200});
  }
  view.fill({0, kRail_y + 56, kSceneWidth, 3}, {44, 48, 66, 140});  // the kerb on this side
}

}  // namespace understudy::tram
