// What is far away: the night sky, the skyline, the rows of roofs behind the street.
#pragma once

#include "scenarios/tram/game/scene/view.h"

namespace understudy::tram {

class Backdrop {
 public:
  explicit Backdrop(SDL_Renderer* renderer);
  void draw(const View& view) const;

 private:
  Picture sky_;
  Picture overcast_;
  Picture skyline_;
  Picture roofs_;
};

}  // namespace understudy::tram
