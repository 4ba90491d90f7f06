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
constexpr int kDrops = 190;
constexpr int kStreakKinds = 4;

Picture paint_road(SDL_Renderer* renderer) {
  Painter painter(kSceneWidth, kRoadHeight);
  painter.gradient({0, 0, kSceneWidth, kRoadHeight}, {10, 13, 26, 90}, {6, 8, 17, 215});
  return painter.picture(renderer);
}

double streak_length(int kind) {
  return 20.0 + 7.0 * kind;
}

Picture paint_streak(SDL_Renderer* renderer, int kind) {
  const double length = streak_length(kind);
  Painter painter(12, static_cast<int>(length) + 2);
  const int alpha = 40 + 22 * kind;
  painter.line({3 + length * 0.2, 1}, {2, length}, 1.2, Colour{190, 205, 235}.with_alpha(alpha));
  return painter.picture(renderer);
}

}  // namespace

Wet::Wet(SDL_Renderer* renderer) : road_(paint_road(renderer)) {
  for (int kind = 0; kind < kStreakKinds; ++kind) streaks_.push_back(paint_streak(renderer, kind));
}

void Wet::draw_road(const View& view, SDL_Texture* street) const {
  view.fill({0, kRail_y, kSceneWidth, kRoadHeight}, {9, 11, 22});
  SDL_SetTextureBlendMode(street, SDL_BLENDMODE_NONE);
  for (int row = 0; row < kRoadHeight; row += kRowHeight) {
    const double depth = static_cast<double>(row) / kRoadHeight;
    const double shift = (0.6 + 2.6 * depth) * std::sin(row * 0.21 + view.now_s * 1.3) +
                         1.4 * depth * std::sin(row * 0.67 - view.now_s * 2.1);
    const int source = kRail_y - 1 - static_cast<int>(row * kSquash);
    const SDL_Rect from{0, source - 3, kSceneWidth, 4};
    const SDL_Rect to{static_cast<int>(std::lround(shift)), kRail_y + row, kSceneWidth, kRowHeight};
    SDL_RenderCopy(view.renderer, street, &from, &to);
  }
  road_.draw(view.renderer, 0, kRail_y);
  for (const double y : {kRail_y + 1.0, kRail_y + 15.0}) {  // the rails, edge on
    view.fill({0, y, kSceneWidth, 2}, {150, 160, 188, 190});
    view.fill({0, y + 2, kSceneWidth, 2}, {20, 22, 34, 200});
  }
  view.fill({0, kRail_y + 56, kSceneWidth, 3}, {44, 48, 66, 140});  // the kerb on this side
}

void Wet::draw_rain(const View& view) const {
  const double wind = view.shift().motion().speed_mps * 0.9;
  for (int drop = 0; drop < kDrops; ++drop) {
    Chance chance(static_cast<std::uint64_t>(drop) + 900);
    const double speed = chance.between(420, 700);
    const double height = kDesk_y + 60.0;
    const double fallen = std::fmod(chance.share() * height + view.now_s * speed, height);
    double x = chance.between(0, kSceneWidth + 200) - fallen * (0.22 + wind * 0.012) -
               view.front_m * kPixelsPerMetre * 0.25;
    x -= std::floor(x / kSceneWidth) * kSceneWidth;
    const int kind = drop % kStreakKinds;
    if (fallen > kDesk_y - streak_length(kind)) continue;
    streaks_[static_cast<std::size_t>(kind)].draw(view.renderer, x, fallen);
  }
  for (int ring = 0; ring < 26; ++ring) {  // where drops meet the road
    Chance chance(static_cast<std::uint64_t>(ring) + 70 +
                  1000u * static_cast<std::uint64_t>(view.now_s * 1.3 + ring * 0.17));
    const double age = std::fmod(view.now_s * 1.3 + ring * 0.17, 1.0);
    const double half = 2.0 + 9.0 * age;
    const Spot at{chance.between(0, kSceneWidth), chance.between(kRail_y + 22, kDesk_y - 6)};
    view.fill({at.x - half, at.y, 2.0 * half, 1},
              Colour{170, 185, 215, static_cast<std::uint8_t>(90 * (1.0 - age))});
  }
}

}  // namespace understudy::tram
