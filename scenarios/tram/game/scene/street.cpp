// Lays the houses out along the whole line and draws those in view. The houses themselves are
// painted in houses.cpp.
#include "scenarios/tram/game/scene/street.h"

#include <cmath>

#include "scenarios/tram/game/rules/chance.h"
#include "scenarios/tram/game/scene/houses.h"

namespace understudy::tram {

namespace {

constexpr double kPavement_y = kRail_y - 12;
constexpr double kLampEvery_m = 22.0;
constexpr double kTreeEvery_m = 13.0;
constexpr double kLineFrom_m = -60.0;
constexpr double kLineTo_m = kLineEnd_m + 80.0;

bool overlaps(const Stretch& stretch, double from_m, double to_m) {
  return from_m < stretch.to_m && to_m > stretch.from_m;
}

Picture paint_lamp(SDL_Renderer* renderer) {
  Painter painter(60, 170);
  const Colour iron{22, 26, 36};
  painter.line({12, 12}, {12, 168}, 5, iron);
  painter.line({12, 24}, {36, 10}, 3, iron);
  painter.polygon({{28, 12}, {48, 12}, {52, 19}, {24, 19}}, iron);
  painter.rounded({29, 18, 18, 4}, 2, colour::kWhite);
  return painter.picture(renderer);
}

}  // namespace

Street::Street(SDL_Renderer* renderer) : lamp_(paint_lamp(renderer)) {
  Chance chance(3);
  for (int kind = 0; kind < kHouseKinds; ++kind) {
    houses_.push_back(paint_house(renderer, kind));
    snow_on_houses_.push_back(paint_snow_on_house(renderer, kind));
  }
  for (int kind = 0; kind < kTreeKinds; ++kind) {
    trees_.push_back(paint_tree(renderer, kind));
    snow_on_trees_.push_back(paint_snow_on_tree(renderer, kind));
  }
  std::size_t last = 0;
  for (double from_m = kLineFrom_m; from_m < kLineTo_m;) {
    std::size_t house = static_cast<std::size_t>(chance.next() % houses_.size());
    if (house == last) house = (house + 1) % houses_.size();
    last = house;
    const double wide_m = houses_[house].width / kPixelsPerMetre;
    const bool open = overlaps(kSlowStretch, from_m, from_m + wide_m) ||
                      overlaps(kCovered, from_m, from_m + wide_m) ||
                      overlaps(kLeaves[1], from_m, from_m + wide_m);
    if (!open) plots_.push_back({from_m, house});
    from_m += wide_m + (chance.share() < 0.25 ? 4.0 : 0.0);
  }
}

void Street::draw_snow(const View& view, const Picture& snow, Spot at) {
  const double amount = view.shift().weather().snow;
  if (amount <= 0.0) return;
  const Box where{std::round(at.x), std::round(at.y), snow.width + 0.0, snow.height + 0.0};
  snow.draw_over(view.renderer, where, colour::faded(amount));
}

void Street::draw_houses(const View& view) const {
  for (const Plot& plot : plots_) {
    const Picture& house = houses_[plot.house];
    const double x = view.x_of(plot.from_m);
    if (!View::visible(x, house.width)) continue;
    house.draw(view.renderer, x, kPavement_y - house.height);
    draw_snow(view, snow_on_houses_[plot.house], {x, kPavement_y - house.height});
  }
}

void Street::draw_bridge(const View& view) const {
  const double from = view.x_of(kSlowStretch.from_m);
  const double to = view.x_of(kSlowStretch.to_m);
  if (!View::visible(from, to - from)) return;
  const Colour iron{26, 32, 46};
  view.fill({from, kPavement_y - 34, to - from, 4}, iron);
  view.fill({from, kPavement_y - 20, to - from, 2}, iron);
  for (double x = from; x <= to; x += 18) view.fill({x, kPavement_y - 34, 3, 34}, iron);
}

void Street::draw_trees(const View& view) const {
  for (const Stretch& stretch : kLeaves) {
    for (double at_m = stretch.from_m; at_m < stretch.to_m; at_m += kTreeEvery_m) {
      const auto kind = static_cast<std::size_t>(at_m / kTreeEvery_m) % trees_.size();
      const double x = view.x_of(at_m) - trees_[kind].width / 2.0;
      if (!View::visible(x, trees_[kind].width)) continue;
      trees_[kind].draw(view.renderer, x, kPavement_y + 4 - trees_[kind].height);
      draw_snow(view, snow_on_trees_[kind], {x, kPavement_y + 4 - trees_[kind].height});
    }
  }
}

void Street::draw_lamps(const View& view, Shine& shine) const {
  const double first = std::floor((view.front_m - 32.0) / kLampEvery_m) * kLampEvery_m;
  for (double at_m = first; at_m < view.front_m + 32.0; at_m += kLampEvery_m) {
    const double x = view.x_of(at_m);
    lamp_.draw(view.renderer, x - 12, kPavement_y + 6 - lamp_.height);
    const Spot light{x + 26, kPavement_y + 6.0 - lamp_.height + 20};
    shine.draw(view, light, 90, colour::kLamplight.with_alpha(90));
    shine.draw(view, light, 22, colour::kLamplight.with_alpha(210));
    shine.draw_flat(view, {light.x, kPavement_y + 4}, {.width = 210, .height = 26},
                    colour::kLamplight.with_alpha(80));
  }
}

void Street::draw_viaduct(const View& view) const {
  const double from = view.x_of(kCovered.from_m);
  const double to = view.x_of(kCovered.to_m);
  if (!View::visible(from, to - from)) return;
  const Colour stone{20, 22, 34};
  view.fill({from, 150, to - from, 70}, stone);
  view.fill({from, 142, to - from, 8}, {34, 37, 54});
  view.fill({from, 220, to - from, 4}, {12, 13, 22});
  for (double at_m = kCovered.from_m; at_m <= kCovered.to_m; at_m += 16.0) {
    view.fill({view.x_of(at_m) - 26, 220, 52, kPavement_y - 220}, stone);
    view.fill({view.x_of(at_m) + 20, 220, 6, kPavement_y - 220}, {30, 33, 48});
  }
}

void Street::draw(const View& view, Shine& shine) const {
  draw_houses(view);
  draw_viaduct(view);
  view.fill({0, kPavement_y, kSceneWidth, 8}, {44, 46, 60});
  view.fill({0, kPavement_y + 8, kSceneWidth, 4}, {28, 30, 42});
  const int snow = static_cast<int>(235 * view.shift().weather().snow);
  view.fill({0, kPavement_y - 1, kSceneWidth, 6}, colour::kSnow.with_alpha(snow));
  draw_bridge(view);
  draw_trees(view);
  draw_lamps(view, shine);
  view.fill({0, kWire_y, kSceneWidth, 1.5}, {60, 64, 84, 220});
}

}  // namespace understudy::tram
