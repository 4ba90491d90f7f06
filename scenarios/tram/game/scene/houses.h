// Paints the house fronts and trees of the street.
#pragma once

#include "scenarios/tram/game/draw/painter.h"

namespace understudy::tram {

constexpr int kHouseKinds = 8;
constexpr int kTreeKinds = 3;

// REQUIRES: 0 <= kind < kHouseKinds
Picture paint_house(SDL_Renderer* renderer, int kind);
// The snow on such a house's roof and ledges; the same size, and nothing else in it.
Picture paint_snow_on_house(SDL_Renderer* renderer, int kind);
// REQUIRES: 0 <= kind < kTreeKinds
Picture paint_tree(SDL_Renderer* renderer, int kind);
Picture paint_snow_on_tree(SDL_Renderer* renderer, int kind);

}  // namespace understudy::tram
