// The game without a screen: panel, desk and shift in one frame. Window and headless run both call
// frame(); neither changes what the game does.
#pragma once

#include <cstdint>
#include <memory>
#include <optional>

#include "scenarios/tram/game/input/desk.h"
#include "scenarios/tram/game/input/idle_watch.h"
#include "scenarios/tram/game/input/keyboard.h"
#include "scenarios/tram/game/input/panel_input.h"
#include "scenarios/tram/game/rules/autopilot.h"
#include "scenarios/tram/game/rules/shift.h"

namespace understudy::tram {

struct Evening {
  std::uint64_t seed = 1;
  std::optional<Sky> sky = {};       // the same all night; else the seed's own weather
  double attract_after_s = kIdle_s;  // 0: never
};

class Game {
 public:
  Game(std::unique_ptr<PanelInput> panel, const Evening& evening);

  // One frame of `seconds` of real time: reads the panel once, moves the shift on in fixed steps,
  // shows the outputs. More than kLongestFrame_s is not caught up: the game pauses instead.
  void frame(double seconds);

  const Shift& shift() const { return shift_; }
  const PanelReading& panel() const { return reading_; }
  const DeskState& desk() const { return desk_state_; }
  // What the tram obeys: the desk, or the autopilot while nobody plays.
  const Controls& controls() const { return controls_; }
  Keyboard& keyboard() { return keyboard_; }
  // Nobody plays: the tram drives itself, and the screen invites.
  bool attract() const { return attract_; }
  double attract_in_s() const { return watch_.left_s(); }
  // How long the panel has not been fresh; 0 while it is.
  double not_fresh_for_s() const { return not_fresh_for_s_; }
  // Time that has passed since the last whole step, for a smooth picture; 0 to kShiftStepSeconds.
  double left_over_s() const { return left_over_s_; }
  void begin_again();

 private:
  void change_attract();
  void step();

  std::unique_ptr<PanelInput> panel_;
  Evening evening_;
  Shift shift_;
  Keyboard keyboard_;
  Desk desk_;
  IdleWatch watch_;
  Autopilot autopilot_;
  PanelReading reading_;
  DeskState desk_state_;
  Controls controls_;
  bool attract_ = false;
  int bell_presses_ = 0;  // not yet taken by a step
  int door_presses_ = 0;
  double not_fresh_for_s_ = 0.0;
  double left_over_s_ = 0.0;
};

constexpr double kLongestFrame_s = 0.25;
constexpr double kReportShown_s = 25.0;     // after the end of the line; then the next shift begins
constexpr double kReportShown_s_min = 3.0;  // a doors press ends it sooner, but not by mistake

}  // namespace understudy::tram
