// The game without a screen: panel, desk and shift in one frame. Window and headless run both call
// frame(); neither changes what the game does.
#pragma once

#include <cstdint>
#include <memory>

#include "scenarios/tram/game/input/desk.h"
#include "scenarios/tram/game/input/keyboard.h"
#include "scenarios/tram/game/input/panel_input.h"
#include "scenarios/tram/game/rules/shift.h"

namespace understudy::tram {

class Game {
 public:
  Game(std::unique_ptr<PanelInput> panel, std::uint64_t seed);

  // One frame of `seconds` of real time: reads the panel once, moves the shift on in fixed steps,
  // shows the lamps. More than kLongestFrame_s is not caught up: the game pauses instead.
  void frame(double seconds);

  const Shift& shift() const { return shift_; }
  const PanelReading& panel() const { return reading_; }
  const DeskState& desk() const { return desk_state_; }
  Keyboard& keyboard() { return keyboard_; }
  // Time that has passed since the last whole step, for a smooth picture; 0 to kShiftStepSeconds.
  double left_over_s() const { return left_over_s_; }
  void begin_again();

 private:
  std::unique_ptr<PanelInput> panel_;
  std::uint64_t seed_;
  Shift shift_;
  Keyboard keyboard_;
  Desk desk_;
  PanelReading reading_;
  DeskState desk_state_;
  int bell_presses_ = 0;  // not yet taken by a step
  int door_presses_ = 0;
  double left_over_s_ = 0.0;
};

constexpr double kLongestFrame_s = 0.25;
constexpr double kReportShown_s = 25.0;     // after the end of the line; then the next shift begins
constexpr double kReportShown_s_min = 3.0;  // a doors press ends it sooner, but not by mistake

}  // namespace understudy::tram
