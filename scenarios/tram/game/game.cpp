// One frame of the game; see game.h.
#include "scenarios/tram/game/game.h"

#include <algorithm>
#include <utility>

namespace understudy::tram {

Game::Game(std::unique_ptr<PanelInput> panel, std::uint64_t seed)
    : panel_(std::move(panel)), seed_(seed), shift_(seed) {}

void Game::begin_again() {
  shift_ = Shift(++seed_);
}

void Game::frame(double seconds) {
  reading_ = panel_->poll();
  desk_state_ = desk_.merge(reading_, keyboard_, seconds);
  bell_presses_ += desk_state_.controls.bell_presses;
  door_presses_ += desk_state_.controls.door_presses;

  const bool asked = door_presses_ > 0 && shift_.finished_for_s() > kReportShown_s_min;
  if (asked || shift_.finished_for_s() > kReportShown_s) begin_again();

  left_over_s_ += std::min(seconds, kLongestFrame_s);
  while (left_over_s_ >= kShiftStepSeconds) {
    Controls controls = desk_state_.controls;
    controls.bell_presses = std::exchange(bell_presses_, 0);
    controls.door_presses = std::exchange(door_presses_, 0);
    shift_.advance(controls, desk_state_.driver != Driver::nobody);
    left_over_s_ -= kShiftStepSeconds;
  }
  panel_->show(lamps_for(shift_));
}

}  // namespace understudy::tram
