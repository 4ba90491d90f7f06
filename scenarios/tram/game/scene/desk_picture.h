// The driver's desk below the street: speed, handle, next stop, lamps, saloon, who drives.
#pragma once

#include "scenarios/tram/game/scene/view.h"

namespace understudy::tram {

class DeskPicture {
 public:
  explicit DeskPicture(SDL_Renderer* renderer);
  void draw(const View& view, Shine& shine) const;

 private:
  void draw_speed(const View& view) const;
  void draw_handle(const View& view) const;
  void draw_next_stop(const View& view) const;
  void draw_digits(const View& view) const;
  void draw_mark_ruler(const View& view, double gap_m) const;
  void draw_lamps(const View& view, Shine& shine) const;
  void draw_saloon(const View& view) const;
  void draw_link(const View& view, Shine& shine) const;
  void draw_keys(const View& view) const;

  Picture plate_;
  Picture needle_;
  Picture grip_;
  Picture lens_;
};

}  // namespace understudy::tram
