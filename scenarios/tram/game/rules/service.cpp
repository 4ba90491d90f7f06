// The part of a shift that happens at stops: doors, people who board and alight, leaving, missing.
#include <algorithm>
#include <cmath>

#include "scenarios/tram/game/rules/shift.h"

namespace understudy::tram {

namespace {

constexpr double kBoarding_s = 0.8;  // one person after the other
constexpr double kAlighting_s = 0.5;
constexpr double kMissed_m = 20.0;  // so far past the mark, there is no going back
constexpr std::size_t kLastStop = kStops.size() - 1;

}  // namespace

bool Shift::at_stop() const {
  return next_stop_ < kStops.size() && motion_.speed_mps <= 0.0 &&
         std::abs(motion_.position_m - kStops[next_stop_].mark_m) <= kDoorsReach_m;
}

void Shift::serve_doors(const Controls& controls) {
  doors_.advance(kShiftStepSeconds, controls.door_presses, at_stop());
  if (controls.door_presses > 0 && doors_.shut() && !at_stop()) say(Note::no_stop_here);
  if (doors_.state() == DoorState::opening && !records_[next_stop_].served) {
    const Stop& stop = kStops[next_stop_];
    StopRecord& record = records_[next_stop_];
    record.served = true;
    record.mark_error_m = motion_.position_m - stop.mark_m;
    record.late_s = next_stop_ == 0 ? 0.0 : std::max(0.0, time_s_ - stop.arrives_s);
    record.warm = saloon_.pleasant();
    next_exchange_s_ = time_s_ + kDoorsMove_s;
  }
  if (doors_.state() == DoorState::open) exchange_passengers();
}

void Shift::exchange_passengers() {
  if (time_s_ < next_exchange_s_ || next_stop_ >= kStops.size()) return;
  if (alighting_[next_stop_] > 0 && passengers_ > 0) {
    --alighting_[next_stop_];
    --passengers_;
    next_exchange_s_ = time_s_ + kAlighting_s;
  } else if (waiting_[next_stop_] > 0) {
    --waiting_[next_stop_];
    ++passengers_;
    next_exchange_s_ = time_s_ + kBoarding_s;
  } else if (next_stop_ == kLastStop) {
    finish();
  } else {
    const bool time = time_s_ >= kStops[next_stop_].leaves_s;
    say(time ? Note::ready_to_leave : Note::not_yet);
    next_exchange_s_ = time_s_ + kBoarding_s;
  }
}

void Shift::leave_or_miss_stop() {
  if (next_stop_ >= kStops.size()) return;
  const Stop& stop = kStops[next_stop_];
  StopRecord& record = records_[next_stop_];
  if (record.served && doors_.shut() && motion_.speed_mps > 0.0) {
    record.left_early = time_s_ < stop.leaves_s - kEarly_s;
    record.late_s = std::max(record.late_s, time_s_ - stop.leaves_s);
    record.left_behind = waiting_[next_stop_];
    if (++next_stop_ == kStops.size()) finish();
  } else if (!record.served && motion_.position_m > stop.mark_m + kMissed_m) {
    record.missed = true;
    ++next_stop_;
    say(Note::stop_missed);
  }
}

}  // namespace understudy::tram
