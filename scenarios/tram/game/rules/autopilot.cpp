// Looks ahead as a driver does: brakes for the mark, for lights that are not green, for limits and
// for fog; rings, sands where the rail is bad, heats a little, waits for the time of departure.
#include "scenarios/tram/game/rules/autopilot.h"

#include <algorithm>
#include <cmath>

namespace understudy::tram {

namespace {

constexpr int kStand = 200;
constexpr int kDriveOff = 800;
constexpr int kMost = 900;
constexpr int kMostOnSnow = 790;  // about half the effort: more would spin the wheels
constexpr int kMostOnLeaves = 640;
constexpr int kHardBrake = 200;
constexpr double kCalm_mps2 = 0.6;
constexpr double kFirm_mps2 = 1.1;
constexpr double kBeforeSignal_m = 3.0;
constexpr double kNumbersPerMps = 420.0;

double speed_to_stop_in(double room_m) {
  return room_m > 0.0 ? std::sqrt(2.0 * kCalm_mps2 * room_m) : 0.0;
}

int most_power(const Shift& shift) {
  if (shift.rail() == Rail::snow) return kMostOnSnow;
  return shift.rail() == Rail::leaves && shift.sand_left() <= 0.0 ? kMostOnLeaves : kMost;
}

}  // namespace

Controls Autopilot::look(const Shift& shift) {
  Controls controls{.power = handle(shift), .heater = shift.saloon().celsius < 20.0 ? 700 : 150};
  controls.bell = shift.people().in_the_way(shift.motion().position_m);
  const bool braking = controls.power < kHardBrake;
  controls.sander = shift.motion().slipping || shift.rail() == Rail::leaves ||
                    (shift.rail() == Rail::snow && braking);
  if (shift.at_stop()) controls.door_presses = door_presses(shift);
  return controls;
}

double Autopilot::room_m(const Shift& shift) {
  const double front_m = shift.motion().position_m;
  const double to_mark_m = kStops[shift.next_stop()].mark_m - front_m;
  const std::size_t signal = shift.signal_in_sight();
  if (signal >= kSignals.size()) return to_mark_m;
  const double gap_m = kSignals[signal].at_m - kBeforeSignal_m - front_m;
  if (gap_m > stopping_distance_m(shift.motion().speed_mps, kFirm_mps2)) stops_for_ = signal;
  if (shift.signals().aspect(signal, shift.time_s()) == Aspect::green) {
    stops_for_ = kSignals.size();
  }
  return stops_for_ == signal ? std::min(to_mark_m, gap_m) : to_mark_m;
}

double Autopilot::speed_wanted_mps(const Shift& shift, double room_m) {
  const double front_m = shift.motion().position_m;
  double wanted = std::min(speed_to_stop_in(room_m), speed_limit_mps(front_m));
  const double bend_m = kSlowStretch.from_m - front_m;
  if (bend_m > 0.0) {
    const double limit = speed_limit_mps(kSlowStretch.from_m);
    wanted = std::min(wanted, std::sqrt(limit * limit + 2.0 * kCalm_mps2 * bend_m));
  }
  const std::size_t ahead = Signals::next_after(front_m);
  if (ahead < kSignals.size() && shift.signal_in_sight() != ahead) {
    wanted = std::min(wanted, speed_to_stop_in(sight_m(shift.weather()) - kBeforeSignal_m));
  }
  return wanted;
}

int Autopilot::handle(const Shift& shift) {
  if (shift.next_stop() >= kStops.size() || !shift.doors().shut()) return kStand;
  const int most = most_power(shift);
  if (shift.at_stop()) {
    const bool served = shift.records()[shift.next_stop()].served;
    return served ? std::min(kDriveOff, most) : kStand;
  }
  const double short_of = speed_wanted_mps(shift, room_m(shift)) - shift.motion().speed_mps;
  return std::clamp(kHandleMiddle + static_cast<int>(kNumbersPerMps * short_of), 60, most);
}

int Autopilot::door_presses(const Shift& shift) {
  const StopRecord& record = shift.records()[shift.next_stop()];
  if (record.served && shift.next_stop() + 1 == kStops.size()) return 0;  // the depot: all leave
  if (!record.served) return shift.doors().wished() ? 0 : 1;
  const bool all = shift.waiting(shift.next_stop()) == 0;
  const bool time = shift.time_s() > kStops[shift.next_stop()].leaves_s - 2.0;
  return shift.doors().state() == DoorState::open && all && time ? 1 : 0;
}

}  // namespace understudy::tram
