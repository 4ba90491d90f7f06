// Islands around scattered middles: the squared distance to the nearest, softly joined to the next
// so that the valleys between are round. Middles wander and a slow warp bends all of it, or one
// would see the grid.
#include "sim/paint/enamel.h"

#include <algorithm>
#include <cmath>

namespace understudy {
namespace {

constexpr int kCells = 40;  // across a tile

struct Paint {
  float height = 0;  // in cells
  float flake = 0;   // of the island: how its flakes lie, 0 to 1
  float valley = 0;  // 1 at the bottom between two
};

// `at` in cells, over again after kCells.
Paint paint_at(const Point& at, std::uint32_t seed) {
  constexpr float kWarp = 0.2F;
  const Point half = at * 0.5F;
  const Point warped = {at.x + kWarp * (noise_at(half, seed + 1, kCells / 2) - 0.5F) * 2,
                        at.y + kWarp * (noise_at(half, seed + 2, kCells / 2) - 0.5F) * 2};
  const auto column = static_cast<std::int32_t>(std::floor(warped.x));
  const auto row = static_cast<std::int32_t>(std::floor(warped.y));
  const auto wrapped = [](std::int32_t value) { return (value % kCells + kCells) % kCells; };
  constexpr float kSharp = 7.0F;
  float sum = 0;
  float flakes = 0;
  float first = 9;
  float second = 9;
  for (std::int32_t y = row - 1; y <= row + 1; ++y) {
    for (std::int32_t x = column - 1; x <= column + 1; ++x) {
      const std::int32_t cx = wrapped(x);
      const std::int32_t cy = wrapped(y);
      const float dx = static_cast<float>(x) + 0.1F + 0.8F * chance_at(cx, cy, seed) - warped.x;
      const float dy = static_cast<float>(y) + 0.1F + 0.8F * chance_at(cx, cy, seed + 7) - warped.y;
      const float square = dx * dx + dy * dy;
      const float weight = std::exp(-kSharp * square);
      sum += weight;
      flakes += weight * chance_at(cx, cy, seed + 13);
      if (square < first) {
        second = first;
        first = square;
      } else {
        second = std::min(second, square);
      }
    }
  }
  const float depth = -std::log(sum + 1e-6F) / kSharp;
  const float apart = std::sqrt(second) - std::sqrt(first);
  const float valley = std::clamp(1 - apart / 0.34F, 0.0F, 1.0F);
  return {-depth, flakes / (sum + 1e-6F), valley * valley * (3 - 2 * valley)};
}

}  // namespace

Canvas::Tile enamel_tile(const EnamelLook& look, float pixels_per_mm) {
  const float cell = std::max(look.cell, 3.6F / pixels_per_mm);
  const float coarse = std::clamp(cell * pixels_per_mm / 9.0F, 0.35F, 1.0F);
  const int size = std::max(8, static_cast<int>(std::lround(cell * kCells * pixels_per_mm)));
  const float step = static_cast<float>(kCells) / static_cast<float>(size);
  std::vector<Paint> paints(static_cast<std::size_t>(size) * static_cast<std::size_t>(size));
  const auto index = [size](int column, int row) {
    return static_cast<std::size_t>((row + size) % size) * static_cast<std::size_t>(size) +
           static_cast<std::size_t>((column + size) % size);
  };
  for (int row = 0; row < size; ++row) {
    for (int column = 0; column < size; ++column) {
      paints[index(column, row)] = paint_at(
          {(static_cast<float>(column) + 0.5F) * step, (static_cast<float>(row) + 0.5F) * step},
          look.seed);
    }
  }
  Canvas::Tile tile = {.width = size, .height = size, .pixels = std::vector<Light>(paints.size())};
  const Material paint = {.colour = look.colour, .shine = 0.4F, .roughness = 0.45F};
  const float relief = look.relief * coarse * 0.26F / (2 * step);
  for (int row = 0; row < size; ++row) {
    for (int column = 0; column < size; ++column) {
      const Paint& here = paints[index(column, row)];
      const Slope slope = {
          (paints[index(column + 1, row)].height - paints[index(column - 1, row)].height) * relief,
          (paints[index(column, row + 1)].height - paints[index(column, row - 1)].height) * relief};
      const float tone = (0.94F + 0.12F * here.flake) * (1 - 0.14F * coarse * here.valley);
      tile.pixels[index(column, row)] = lit(look.colour * tone, paint, slope);
    }
  }
  return tile;
}

}  // namespace understudy
