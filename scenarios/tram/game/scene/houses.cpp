// House fronts: floors of windows, some lit, over a shop or a door; and autumn trees.
#include "scenarios/tram/game/scene/houses.h"

#include <array>
#include <cmath>

#include "scenarios/tram/game/rules/chance.h"
#include "scenarios/tram/game/scene/view.h"

namespace understudy::tram {

namespace {

struct HouseKind {
  int windows;  // in a row
  int floors;   // above the ground floor
  bool shop;
  bool gable;
  Colour stone;
  Colour awning;
};

constexpr double kBay = 46.0;
constexpr double kFloor = 58.0;
constexpr double kGroundFloor = 66.0;
constexpr double kRoof = 34.0;

// lint: table
constexpr std::array<HouseKind, kHouseKinds> kKinds = {{
    {5, 2, true, false, {45, 38, 54}, {140, 58, 52}},
    {4, 3, false, false, {36, 44, 58}, {0, 0, 0}},
    {3, 2, true, true, {54, 43, 48}, {52, 104, 92}},
    {6, 1, true, false, {38, 40, 60}, {150, 112, 54}},
    {4, 2, false, true, {48, 40, 44}, {0, 0, 0}},
    {5, 3, true, false, {34, 38, 52}, {78, 70, 120}},
    {3, 3, false, true, {42, 46, 54}, {0, 0, 0}},
    {7, 2, true, false, {40, 36, 50}, {118, 66, 74}},
}};

void window(Painter& painter, Chance& chance, const Box& box) {
  painter.rect({box.x - 2, box.y - 2, box.width + 4, box.height + 4}, {24, 25, 36});
  if (chance.share() < 0.40) {
    const Colour warm = mix(colour::kWindow, {232, 168, 96}, chance.share());
    painter.rect(box, mix(warm, {120, 90, 70}, chance.between(0.0, 0.45)));
    painter.rect({box.x, box.y, box.width * chance.between(0.15, 0.35), box.height},
                 {120, 84, 66, 170});  // a curtain
  } else {
    painter.rect(box, {22, 28, 46});
    painter.line({box.x + 3, box.y + box.height - 6}, {box.x + box.width - 5, box.y + 5}, 2,
                 {60, 74, 104, 90});
  }
  painter.rect({box.x + box.width / 2 - 1, box.y, 2, box.height}, {24, 25, 36});
  painter.rect({box.x - 3, box.y + box.height + 2, box.width + 6, 3}, {66, 64, 80});
}

void shop(Painter& painter, const HouseKind& kind, const Box& front) {
  painter.rect({front.x + 8, front.y + 16, front.width - 16, front.height - 16}, {26, 25, 34});
  const double pane = (front.width - 70) / 2;
  for (const double x : {front.x + 14, front.x + 56 + pane}) {
    painter.gradient({x, front.y + 22, pane, front.height - 30}, {255, 218, 150}, {206, 146, 84});
    for (double shelf = front.y + 36; shelf < front.y + front.height - 12; shelf += 13) {
      painter.rect({x, shelf, pane, 2}, {120, 84, 60, 160});
    }
  }
  painter.rect({front.x + 22 + pane, front.y + 20, 26, front.height - 20}, {64, 46, 42});
  painter.rect({front.x + 26 + pane, front.y + 24, 18, 24}, {236, 190, 120});
  const int stripes = static_cast<int>(front.width / 16);
  for (int stripe = 0; stripe < stripes; ++stripe) {
    const double x = front.x + 4 + stripe * 16;
    const Colour tone = stripe % 2 == 0 ? kind.awning : mix(kind.awning, colour::kCream, 0.45);
    painter.polygon(
        {{x + 3, front.y + 4}, {x + 15, front.y + 4}, {x + 16, front.y + 20}, {x, front.y + 20}},
        mix(tone, colour::kDark, 0.25));
  }
}

void doorway(Painter& painter, Chance& chance, const Box& front) {
  painter.rect({front.x, front.y, front.width, 4}, {70, 66, 84});
  const double middle = front.x + front.width / 2;
  painter.rect({middle - 18, front.y + 12, 36, front.height - 12}, {24, 23, 32});
  painter.rect({middle - 14, front.y + 24, 28, front.height - 24}, {70, 44, 38});
  painter.rect({middle - 12, front.y + 15, 24, 7}, colour::kWindow);
  for (double x = front.x + 12; x + 26 < middle - 20; x += kBay) {
    window(painter, chance, {x, front.y + 18, 24, 30});
  }
  for (double x = middle + 26; x + 26 < front.x + front.width - 8; x += kBay) {
    window(painter, chance, {x, front.y + 18, 24, 30});
  }
}

}  // namespace

Picture paint_house(SDL_Renderer* renderer, int number) {
  const HouseKind& kind = kKinds[static_cast<std::size_t>(number)];
  Chance chance(static_cast<std::uint64_t>(number) + 100);
  const double width = kind.windows * kBay + 12;
  const double height = kRoof + kind.floors * kFloor + kGroundFloor;
  Painter painter(static_cast<int>(width), static_cast<int>(height));
  const Colour roof{28, 26, 38};
  if (kind.gable) {
    painter.polygon({{0, kRoof + 2}, {width * 0.22, 2}, {width * 0.78, 2}, {width, kRoof + 2}},
                    roof);
  } else {
    painter.rect({0, kRoof - 12, width, 14}, roof);
    painter.rect({width * 0.72, kRoof - 32, 18, 24}, roof);
  }
  painter.gradient({0, kRoof, width, height - kRoof}, mix(kind.stone, colour::kDark, 0.35),
                   mix(kind.stone, colour::kLamplight, 0.10));
  painter.rect({0, kRoof, width, 5}, {70, 66, 84});
  for (int floor = 0; floor < kind.floors; ++floor) {
    for (int bay = 0; bay < kind.windows; ++bay) {
      window(painter, chance, {18 + bay * kBay, kRoof + 16 + floor * kFloor, 24, 34});
    }
  }
  const Box front{0, height - kGroundFloor, width, kGroundFloor};
  if (kind.shop) {
    shop(painter, kind, front);
  } else {
    doorway(painter, chance, front);
  }
  return painter.picture(renderer);
}

Picture paint_snow_on_house(SDL_Renderer* renderer, int number) {
  const HouseKind& kind = kKinds[static_cast<std::size_t>(number)];
  const double width = kind.windows * kBay + 12;
  const double height = kRoof + kind.floors * kFloor + kGroundFloor;
  Painter painter(static_cast<int>(width), static_cast<int>(height));
  if (kind.gable) {
    painter.polygon({{width * 0.05, kRoof - 6},
                     {width * 0.22, 2},
                     {width * 0.78, 2},
                     {width * 0.95, kRoof - 6},
                     {width * 0.72, 15},
                     {width * 0.50, 20},
                     {width * 0.28, 15}},
                    colour::kSnow);
  } else {
    painter.rounded({0, kRoof - 15, width, 8}, 3, colour::kSnow);
    painter.rounded({width * 0.72 - 1, kRoof - 35, 20, 6}, 3, colour::kSnow);
  }
  for (int floor = 0; floor < kind.floors; ++floor) {
    for (int bay = 0; bay < kind.windows; ++bay) {
      painter.rounded({15.0 + bay * kBay, kRoof + 49 + floor * kFloor, 30, 4}, 2,
                      colour::kSnow.with_alpha(210));
    }
  }
  if (kind.shop) {
    painter.rounded({4, height - kGroundFloor + 1, width - 8, 6}, 3, colour::kSnow);
  }
  return painter.picture(renderer);
}

Picture paint_snow_on_tree(SDL_Renderer* renderer, int kind) {
  Painter painter(190, 240);
  Chance chance(static_cast<std::uint64_t>(kind) + 80);
  for (int cap = 0; cap < 46; ++cap) {
    const double around = chance.between(3.4, 6.0);  // the upper side
    const double out = chance.between(0.55, 1.0);
    painter.disc({95 + 80 * out * std::cos(around), 82 + 70 * out * std::sin(around)},
                 chance.between(3, 7), colour::kSnow.with_alpha(170));
  }
  return painter.picture(renderer);
}

Picture paint_tree(SDL_Renderer* renderer, int kind) {
  Painter painter(190, 240);
  Chance chance(static_cast<std::uint64_t>(kind) + 40);
  const Colour bark{30, 24, 26};
  painter.line({95, 238}, {95, 120}, 9, bark);
  painter.line({95, 150}, {62, 100}, 5, bark);
  painter.line({95, 140}, {130, 92}, 5, bark);
  for (int leaf = 0; leaf < 260; ++leaf) {
    const double around = chance.between(0.0, 6.2832);
    const double out = std::sqrt(chance.share());
    const Spot at{95 + 82 * out * std::cos(around), 84 + 72 * out * std::sin(around)};
    const Colour autumn = mix({96, 58, 34}, {170, 104, 40}, chance.share());
    const double shade = 0.25 + 0.5 * (at.y / 170.0);
    painter.disc(at, chance.between(4, 9), mix(autumn, colour::kDark, shade).with_alpha(220));
  }
  return painter.picture(renderer);
}

}  // namespace understudy::tram
