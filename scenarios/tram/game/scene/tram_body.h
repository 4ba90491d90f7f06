// The tram itself: body, doors, wheels, pantograph, passengers at the windows, its lights.
#pragma once

#include "scenarios/tram/game/scene/view.h"

namespace understudy::tram {

class TramBody {
 public:
  explicit TramBody(SDL_Renderer* renderer);
  void draw(const View& view, Shine& shine);

 private:
  void draw_doors(const View& view) const;
  void draw_passengers(const View& view) const;
  void draw_wheels(const View& view, double seconds);
  void draw_lights(const View& view, Shine& shine) const;
  void draw_sand(const View& view) const;

  Picture saloon_;  // what one sees through the windows
  Picture passenger_;
  Picture body_;  // with holes where the windows are
  Picture leaf_;
  Picture wheel_;
  Picture beam_;
  double wheel_turn_ = 0.0;  // degrees
  double drawn_at_s_ = 0.0;
  double brake_light_ = 0.0;  // 0 dark, 1 full
};

}  // namespace understudy::tram
