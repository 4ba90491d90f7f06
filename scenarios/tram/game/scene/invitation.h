// What the screen says when nobody plays: that the tram drives itself, and how to take it over.
#pragma once

#include "scenarios/tram/game/scene/view.h"

namespace understudy::tram {

class Invitation {
 public:
  explicit Invitation(SDL_Renderer* renderer);
  // Nothing while somebody plays.
  void draw(const View& view) const;

 private:
  Picture plate_;
};

}  // namespace understudy::tram
