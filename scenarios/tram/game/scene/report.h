// The report at the end of a shift: every point, where it came from, and what the way cost.
#pragma once

#include "scenarios/tram/game/scene/view.h"

namespace understudy::tram {

class Report {
 public:
  explicit Report(SDL_Renderer* renderer);
  // Nothing until the line is done.
  void draw(const View& view) const;

 private:
  void draw_stop(const View& view, std::size_t index) const;
  void draw_way(const View& view) const;
  void draw_sum(const View& view) const;

  Picture card_;
};

}  // namespace understudy::tram
