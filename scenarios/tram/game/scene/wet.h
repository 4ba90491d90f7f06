// Everything wet: the road that mirrors the street, the rails that gleam in it, the rain.
#pragma once

#include <vector>

#include "scenarios/tram/game/scene/view.h"

namespace understudy::tram {

class Wet {
 public:
  explicit Wet(SDL_Renderer* renderer);

  // Mirrors the picture of the street (what stands above the rail) onto the road below it.
  void draw_road(const View& view, SDL_Texture* street) const;
  void draw_rain(const View& view) const;

 private:
  Picture road_;
  std::vector<Picture> streaks_;  // from short and faint to long and clear
};

}  // namespace understudy::tram
