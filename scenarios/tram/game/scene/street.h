// The near side of the street: house fronts, trees, street lamps, the viaduct and the bridge.
#pragma once

#include <vector>

#include "scenarios/tram/game/scene/view.h"

namespace understudy::tram {

class Street {
 public:
  explicit Street(SDL_Renderer* renderer);
  void draw(const View& view, Shine& shine) const;

 private:
  static void draw_snow(const View& view, const Picture& snow, Spot at);
  void draw_houses(const View& view) const;
  void draw_bridge(const View& view) const;
  void draw_trees(const View& view) const;
  void draw_lamps(const View& view, Shine& shine) const;
  void draw_viaduct(const View& view) const;

  struct Plot {
    double from_m;
    std::size_t house;
  };
  std::vector<Picture> houses_;
  std::vector<Picture> snow_on_houses_;
  std::vector<Plot> plots_;
  std::vector<Picture> trees_;
  std::vector<Picture> snow_on_trees_;
  Picture lamp_;
};

}  // namespace understudy::tram
