// The game's only look at a clock: how long the last frame took, and waiting for the next one.
#pragma once

#include <SDL.h>

namespace understudy::tram {

class Pace {
 public:
  // Seconds since the last call, or since the pace began.
  double frame_s() {
    const Uint64 now = SDL_GetPerformanceCounter();
    const double seconds = static_cast<double>(now - last_) / frequency();
    last_ = now;
    return seconds;
  }
  double since_start_s() const {
    return static_cast<double>(SDL_GetPerformanceCounter() - start_) / frequency();
  }
  // Sleeps until frame `number` is due at 60 frames a second; not at all when it is late.
  void wait_for_frame(Uint64 number) const {
    const double left_s = static_cast<double>(number) / 60.0 - since_start_s();
    if (left_s > 0.0) SDL_Delay(static_cast<Uint32>(left_s * 1000.0 + 0.5));
  }

 private:
  static double frequency() { return static_cast<double>(SDL_GetPerformanceFrequency()); }

  Uint64 start_ = SDL_GetPerformanceCounter();
  Uint64 last_ = start_;
};

}  // namespace understudy::tram
