// Tries every place of a coarse grid.
#include "sim/window/free_spot.h"

#include <algorithm>
#include <vector>

namespace understudy {
namespace {

constexpr float kStepMm = 5;
constexpr float kEdgeMm = 4;
constexpr float kApartMm = 1;

Extent whole_of(const PlacedPart& part) {
  return part.legend.lines.empty() ? part.body : both(part.body, part.legend.box);
}

}  // namespace

std::optional<Point> free_spot(const FaceGeometry& face, const PartId& part) {
  std::vector<Extent> taken;
  if (!face.title.lines.empty()) taken.push_back(face.title.box);
  const PlacedPart* wanted = nullptr;
  for (const PlacedPart& placed : face.parts) {
    if (placed.id == part)
      wanted = &placed;
    else
      taken.push_back(grown(whole_of(placed), kApartMm));
  }
  if (wanted == nullptr) return std::nullopt;
  // With room for a legend below, wherever it was written.
  Extent room = wanted->body;
  room.bottom += wanted->legend.lines.empty() ? 0 : wanted->legend.box.height() + 2 * kApartMm;
  const Extent plate = grown({0, 0, face.width, face.height}, -kEdgeMm);
  const auto fits = [&](const Extent& there) {
    return there.left >= plate.left && there.top >= plate.top && there.right <= plate.right &&
           there.bottom <= plate.bottom &&
           std::none_of(taken.begin(), taken.end(),
                        [&](const Extent& other) { return overlap(there, other); });
  };
  if (fits(whole_of(*wanted))) return std::nullopt;
  std::optional<Point> best;
  float best_away = 0;
  for (float y = kStepMm; y < face.height; y += kStepMm) {
    for (float x = kStepMm; x < face.width; x += kStepMm) {
      const Point way = {x - wanted->middle.x, y - wanted->middle.y};
      const float away = way.x * way.x + way.y * way.y;
      if ((best && away >= best_away) || !fits(moved(room, way))) continue;
      best = Point{x, y};
      best_away = away;
    }
  }
  return best;
}

}  // namespace understudy
