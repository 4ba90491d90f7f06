// The card that says what is the matter with the controller and what to do, in an attendant's
// words.
#pragma once

#include "scenarios/tram/game/scene/view.h"

namespace understudy::tram {

class AttendantCard {
 public:
  explicit AttendantCard(SDL_Renderer* renderer);
  // Nothing while all is well, and for the moment that a board takes to start.
  void draw(const View& view) const;

 private:
  Picture card_;
};

}  // namespace understudy::tram
