// A step of the shift: the drive itself, signals and limits. What happens at stops: service.cpp.
#include "scenarios/tram/game/rules/shift.h"

#include <algorithm>

namespace understudy::tram {

namespace {

constexpr TramSpec kTram;
constexpr double kSandLasts_s = 60.0;
constexpr double kSlippingShown_s = 0.4;  // shorter slips are not worth a word
constexpr double kOverLimit_mps = 1.0;    // what a speedometer may be wrong by
constexpr double kWalking_mps = 2.0;
constexpr double kNoteStays_s = 4.0;
constexpr double kShownStays_s = 0.7;

}  // namespace

Shift::Shift(std::uint64_t seed, const Forecast& forecast)
    : signals_(seed), people_(seed), forecast_(forecast), weather_(forecast.at(0.0)) {
  motion_.position_m = kStops[0].mark_m;
  for (std::size_t stop = 0; stop < kStops.size(); ++stop) {
    waiting_[stop] = kStops[stop].boarding;
    alighting_[stop] = kStops[stop].alighting;
  }
  say(Note::welcome);
  note_until_s_ = 12.0;
}

void Shift::advance(const Controls& controls, bool driven) {
  time_s_ += kShiftStepSeconds;
  weather_ = forecast_.at(time_s_);
  if (time_s_ >= note_until_s_) note_ = Note::none;
  bell_ = controls.bell || controls.bell_presses > 0;
  if (bell_) bell_shown_until_s_ = time_s_ + kShownStays_s;

  const double front_before_m = motion_.position_m;
  serve_doors(controls);
  drive(controls, driven);
  heed_signals(front_before_m);
  heed_limits();
  leave_or_miss_stop();

  const int frights = people_.advance(
      kShiftStepSeconds,
      {.front_m = motion_.position_m, .speed_mps = motion_.speed_mps, .bell = bell_});
  tally_.frights += frights;
  if (frights > 0) say(Note::fright);

  const double heater = std::clamp(controls.heater, 0, kPotTop) / static_cast<double>(kPotTop);
  saloon_.advance(
      kShiftStepSeconds,
      {.heater_share = heater, .doors_share = doors_.opening_share(), .people = passengers_});
  if (!finished_ && motion_.position_m >= kLineEnd_m) finish();
}

void Shift::drive(const Controls& controls, bool driven) {
  const bool driver_may = driven && !finished_;
  demand_ = driver_may ? read_handle(controls.power) : safe_brake();
  const bool held = !doors_.shut();
  if (held && demand_.power > 0.0) say(Note::doors_first);

  const bool moving = motion_.speed_mps > 0.0;
  sanding_ = driver_may && controls.sander && sand_left_ > 0.0;
  if (sanding_ && moving) {
    sand_left_ = std::max(0.0, sand_left_ - kShiftStepSeconds / kSandLasts_s);
    if (sand_left_ <= 0.0) say(Note::sand_gone);
  }
  const int heater = std::clamp(controls.heater, 0, kPotTop);
  const MotionInputs inputs{.demand = demand_,
                            .rail = rail(),
                            .sanded = sanding_,
                            .held = held,
                            .passengers = passengers_,
                            .auxiliary_watt = kHeater_watt_max * heater / kPotTop};
  for (double done = 0.0; done < kShiftStepSeconds; done += kStepSeconds) {
    motion_.advance(kTram, inputs);
  }

  const bool hard = demand_.rail_brake && passengers_ > 0 && motion_.speed_mps > kWalking_mps;
  if (hard && !rail_brake_before_) {
    ++tally_.rail_brake_uses;
    say(Note::rail_brake);
  }
  rail_brake_before_ = demand_.rail_brake;
}

std::size_t Shift::signal_in_sight() const {
  const std::size_t index = Signals::next_after(motion_.position_m);
  const bool seen =
      index < kSignals.size() && kSignals[index].at_m - motion_.position_m <= sight_m(weather_);
  return seen ? index : kSignals.size();
}

void Shift::heed_signals(double front_before_m) {
  for (std::size_t index = 0; index < kSignals.size(); ++index) {
    const double at_m = kSignals[index].at_m;
    const bool passed = front_before_m < at_m && motion_.position_m >= at_m;
    if (passed && signals_.aspect(index, time_s_) == Aspect::red) {
      ++tally_.reds_passed;
      say(Note::signal_passed);
    }
  }
}

void Shift::heed_limits() {
  if (motion_.speed_mps > speed_limit_mps(motion_.position_m) + kOverLimit_mps) {
    tally_.too_fast_s += kShiftStepSeconds;
    say(Note::too_fast);
  }
  if (motion_.slipping) {
    slip_shown_until_s_ = time_s_ + kShownStays_s;
    const double before = tally_.slipping_s;
    tally_.slipping_s += kShiftStepSeconds;
    if (before > kSlippingShown_s) say(Note::slipping);
  }
}

void Shift::finish() {
  finished_ = true;
  finished_at_s_ = time_s_;
  next_stop_ = kStops.size();
  say(Note::end_of_line);
}

void Shift::say(Note note) {
  note_ = note;
  note_until_s_ = time_s_ + kNoteStays_s;
}

}  // namespace understudy::tram
