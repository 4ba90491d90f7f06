// What lies over the street: the strip of the line ahead, and what the game says.
#pragma once

#include "scenarios/tram/game/scene/view.h"

namespace understudy::tram {

class Overlay {
 public:
  explicit Overlay(SDL_Renderer* renderer);
  void draw(const View& view, Shine& shine) const;

 private:
  void draw_strip(const View& view, Shine& shine) const;
  void draw_signals(const View& view, Shine& shine) const;
  void draw_walkers(const View& view) const;
  void draw_fog(const View& view) const;
  void draw_note(const View& view) const;

  Picture strip_;
};

}  // namespace understudy::tram
