// What is in the air: fog that swallows the street, rain, snow that falls.
// What lies on the ground and on the roofs is painted with the ground and the roofs.
#pragma once

#include <vector>

#include "scenarios/tram/game/scene/view.h"

namespace understudy::tram {

class Air {
 public:
  explicit Air(SDL_Renderer* renderer);

  // Between what is far and the street; between the street and the tram; over the tram.
  void draw_far_fog(const View& view) const;
  void draw_street_fog(const View& view) const;
  void draw_near_fog(const View& view) const;
  // Rain and snow, before everything else.
  void draw_falling(const View& view) const;

 private:
  void draw_rain(const View& view, double amount) const;
  void draw_splashes(const View& view, double amount) const;
  void draw_snow(const View& view, double amount) const;
  void draw_banks(const View& view, int banks, double amount, double pace) const;

  Picture far_fog_;               // behind the street nothing is left to be seen
  Picture veil_;                  // thin at the top, thick at the rail
  Picture bank_;                  // a drift of fog, far wider than high
  std::vector<Picture> streaks_;  // from short and faint to long and clear
  std::vector<Picture> flakes_;   // from small and far to large and near
};

}  // namespace understudy::tram
