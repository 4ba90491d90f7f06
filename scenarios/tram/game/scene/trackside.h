// What stands beside the rail and matters to the driver: stops with their marks and waiting people,
// signals, speed boards, people on the track.
#pragma once

#include <vector>

#include "scenarios/tram/game/scene/view.h"

namespace understudy::tram {

class Trackside {
 public:
  explicit Trackside(SDL_Renderer* renderer);

  void draw_behind_tram(const View& view, Shine& shine) const;
  // People on the track and on the near platform: they stand before the tram.
  void draw_before_tram(const View& view) const;

 private:
  void draw_stop(const View& view, Shine& shine, std::size_t index) const;
  void draw_platform(const View& view, std::size_t index) const;
  void draw_walkers(const View& view) const;
  void draw_signal(const View& view, Shine& shine, std::size_t index) const;
  void draw_speed_board(const View& view, double at_m, const char* words) const;

  Picture shelter_;
  Picture mark_;
  Picture signal_;
  Picture board_;
  std::vector<Picture> people_;
};

}  // namespace understudy::tram
