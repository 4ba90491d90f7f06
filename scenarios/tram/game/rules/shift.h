// One shift on the night tram, from Harbour Gate to the depot: all rules of the game come together
// here. Deterministic: same seed and same controls, step by step, give the same shift.
// Knows neither screen nor cable.
#pragma once

#include <array>
#include <cstdint>

#include "scenarios/tram/game/rules/controls.h"
#include "scenarios/tram/game/rules/doors.h"
#include "scenarios/tram/game/rules/handle.h"
#include "scenarios/tram/game/rules/line_of_stops.h"
#include "scenarios/tram/game/rules/notes.h"
#include "scenarios/tram/game/rules/people.h"
#include "scenarios/tram/game/rules/physics.h"
#include "scenarios/tram/game/rules/saloon.h"
#include "scenarios/tram/game/rules/score.h"
#include "scenarios/tram/game/rules/signals.h"
#include "scenarios/tram/game/rules/weather.h"

namespace understudy::tram {

constexpr int kMotionSteps = 2;
constexpr double kShiftStepSeconds = kMotionSteps * kStepSeconds;

class Shift {
 public:
  // An evening of its own: signals, people and weather follow from the seed.
  explicit Shift(std::uint64_t seed) : Shift(seed, Forecast(seed)) {}
  Shift(std::uint64_t seed, const Forecast& forecast);

  // Moves on by kShiftStepSeconds. Not `driven` (nobody at the desk): the tram brakes calmly to a
  // stand, whatever the handle said last.
  void advance(const Controls& controls, bool driven);

  double time_s() const { return time_s_; }
  const Motion& motion() const { return motion_; }
  const Doors& doors() const { return doors_; }
  const Saloon& saloon() const { return saloon_; }
  const Signals& signals() const { return signals_; }
  const People& people() const { return people_; }
  const Weather& weather() const { return weather_; }
  // The rail under the tram's front.
  Rail rail() const { return rail_at(motion_.position_m, rail_under(weather_)); }
  // The next signal if the weather lets the driver see it; else kSignals.size().
  std::size_t signal_in_sight() const;
  const Demand& demand() const { return demand_; }
  const Tally& tally() const { return tally_; }
  const StopRecords& records() const { return records_; }

  // The stop to serve next; kStops.size() once the line is done.
  std::size_t next_stop() const { return next_stop_; }
  int waiting(std::size_t stop) const { return waiting_[stop]; }
  int passengers() const { return passengers_; }
  double sand_left() const { return sand_left_; }  // 1 full, 0 empty
  bool sanding() const { return sanding_; }
  bool bell() const { return bell_; }
  // As above, for eyes: each stays for a moment, so that no light flickers with a hand or a wheel.
  bool bell_shown() const { return time_s_ < bell_shown_until_s_; }
  bool slip_shown() const { return time_s_ < slip_shown_until_s_; }
  bool at_stop() const;  // standing where doors may open
  bool finished() const { return finished_; }
  double finished_for_s() const { return finished_ ? time_s_ - finished_at_s_ : 0.0; }
  Note note() const { return note_; }
  int points() const { return points_for(records_, tally_); }

 private:
  void drive(const Controls& controls, bool driven);
  void heed_signals(double front_before_m);
  void heed_limits();
  void serve_doors(const Controls& controls);
  void exchange_passengers();
  void leave_or_miss_stop();
  void finish();
  void say(Note note);

  // saved: all of it; a copy of a Shift is a snapshot
  double time_s_ = 0.0;
  Motion motion_;
  Doors doors_;
  Saloon saloon_;
  Signals signals_;
  People people_;
  Forecast forecast_;
  Weather weather_;
  Demand demand_;
  Tally tally_;
  StopRecords records_;
  std::array<int, kStops.size()> waiting_{};
  std::array<int, kStops.size()> alighting_{};
  std::size_t next_stop_ = 0;
  int passengers_ = 0;
  double next_exchange_s_ = 0.0;
  double sand_left_ = 1.0;
  bool sanding_ = false;
  bool bell_ = false;
  double bell_shown_until_s_ = 0.0;
  double slip_shown_until_s_ = 0.0;
  bool rail_brake_before_ = false;
  bool finished_ = false;
  double finished_at_s_ = 0.0;
  Note note_ = Note::none;
  double note_until_s_ = 0.0;
};

}  // namespace understudy::tram
