// One frame of the game; see game.h.
#include "scenarios/tram/game/game.h"

#include <algorithm>
#include <utility>

namespace understudy::tram {

namespace {

Shift shift_of(const Evening& evening) {
  return Shift(evening.seed, evening.sky ? Forecast(*evening.sky) : Forecast(evening.seed));
}

const char* doing(const Game& game) {
  if (game.attract()) return "attract";
  if (game.shift().finished()) return "report";
  return game.desk().driver == Driver::nobody ? "nobody" : "drive";
}

}  // namespace

Game::Game(std::unique_ptr<PanelInput> panel, const Evening& evening)
    : panel_(std::move(panel)),
      evening_(evening),
      shift_(shift_of(evening)),
      watch_(evening.attract_after_s) {}

void Game::begin_again() {
  ++evening_.seed;
  shift_ = shift_of(evening_);
  autopilot_ = {};
}

// Both ways a shift of its own begins: nobody inherits what the other had begun.
void Game::change_attract() {
  if (attract_ == watch_.idle()) return;
  attract_ = watch_.idle();
  begin_again();
}

void Game::step() {
  if (attract_) {
    controls_ = autopilot_.look(shift_);
  } else {
    controls_ = desk_state_.controls;
    controls_.bell_presses = std::exchange(bell_presses_, 0);
    controls_.door_presses = std::exchange(door_presses_, 0);
  }
  shift_.advance(controls_, attract_ || desk_state_.driver != Driver::nobody);
}

void Game::frame(double seconds) {
  reading_ = panel_->poll();
  not_fresh_for_s_ = reading_.link == PanelLink::fresh ? 0.0 : not_fresh_for_s_ + seconds;
  watch_.look(reading_, keyboard_, seconds);
  desk_state_ = desk_.merge(reading_, keyboard_, seconds);
  bell_presses_ += desk_state_.controls.bell_presses;
  door_presses_ += desk_state_.controls.door_presses;

  change_attract();
  const bool asked = door_presses_ > 0 && shift_.finished_for_s() > kReportShown_s_min;
  if (asked || shift_.finished_for_s() > kReportShown_s) begin_again();

  left_over_s_ += std::min(seconds, kLongestFrame_s);
  while (left_over_s_ >= kShiftStepSeconds) {
    step();
    left_over_s_ -= kShiftStepSeconds;
  }
  panel_->show(outputs_for(shift_), doing(*this));
}

}  // namespace understudy::tram
