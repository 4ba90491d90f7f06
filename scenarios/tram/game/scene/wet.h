// The road: wet it mirrors the street, dry it hardly does, under snow it is pale.
#pragma once

#include "scenarios/tram/game/scene/view.h"

namespace understudy::tram {

class Wet {
 public:
  explicit Wet(SDL_Renderer* renderer);

  // Mirrors the picture of the street (what stands above the rail) onto the road below it.
  void draw_road(const View& view, SDL_Texture* street) const;

 private:
  void draw_mirror(const View& view, SDL_Texture* street) const;

  Picture road_;
  Picture cobbles_;  // what a dry road shows instead of the mirror
  Picture snow_;
};

}  // namespace understudy::tram
