// Whether anybody is there: nothing has been moved beyond its noise for some time. A pot that
// trembles, drifts, or drops out for a few lines moves nothing; a press, a switch or a hand does.
// What the game makes of it (it drives by itself and invites) is game.h's business.
#pragma once

#include "scenarios/tram/game/input/keyboard.h"
#include "scenarios/tram/game/input/panel_input.h"

namespace understudy::tram {

constexpr double kIdle_s = 45.0;         // unless the command line says otherwise
constexpr double kIdleWarning_s = 10.0;  // before that, the screen asks whether somebody is there
constexpr int kPotMoved = 24;            // wire numbers; noise is a few, with tails of eight or so
constexpr double kPotMoved_s = 0.12;     // for so long; a worn track drops out for less
constexpr double kPotDrift_per_s = 2.0;  // a resting place follows slow change at this pace

class IdleWatch {
 public:
  // `after_s`: 0 for never.
  explicit IdleWatch(double after_s) : after_s_(after_s) {}

  // Call once a frame, before the keyboard is emptied.
  void look(const PanelReading& panel, const Keyboard& keyboard, double seconds);

  bool idle() const { return after_s_ > 0.0 && still_for_s_ >= after_s_; }
  // Until idle() says so; large when it never will.
  double left_s() const { return after_s_ > 0.0 ? after_s_ - still_for_s_ : 1e9; }

 private:
  struct Resting {
    double place = 0.0;
    double away_s = 0.0;  // for how long it has been elsewhere
  };
  bool moved(Resting& resting, int now, double seconds) const;
  bool panel_moved(const Controls& now, double seconds);

  double after_s_;
  double still_for_s_ = 0.0;
  Resting power_;
  Resting heater_;
  bool sander_ = false;
  bool known_ = false;  // the panel's resting places are
};

}  // namespace understudy::tram
