// The levels of outputs.h.
#include "scenarios/tram/game/rules/outputs.h"

#include <algorithm>
#include <cmath>

#include "scenarios/tram/game/rules/shift.h"

namespace understudy::tram {

namespace {

constexpr int kLampFaint = 50;
constexpr int kLampHalf = 130;
constexpr double kNear_m = 100.0;
constexpr double kInSight_m = 250.0;
constexpr double kLongestTime_s = 99.0 * 60.0 + 59.0;

int signal_level(double gap_m) {
  if (gap_m < kNear_m) return kLampFull;
  return gap_m < kInSight_m ? kLampHalf : kLampFaint;
}

int door_level(const Doors& doors) {
  switch (doors.state()) {
    case DoorState::shut:
      return doors.wished() ? kLampFaint : 0;
    case DoorState::opening:
    case DoorState::closing:
      return kLampHalf;
    case DoorState::open:
      return kLampFull;
  }
  return 0;
}

void show_signal(const Shift& shift, Outputs& outputs) {
  const std::size_t index = shift.signal_in_sight();
  if (index >= kSignals.size()) return;
  const int level = signal_level(kSignals[index].at_m - shift.motion().position_m);
  switch (shift.signals().aspect(index, shift.time_s())) {
    case Aspect::red:
      outputs.signal_red = level;
      break;
    case Aspect::amber:
      outputs.signal_amber = level;
      break;
    case Aspect::green:
      outputs.signal_green = level;
      break;
  }
}

}  // namespace

int minutes_and_seconds(double seconds) {
  const int left = static_cast<int>(std::ceil(std::clamp(seconds, 0.0, kLongestTime_s)));
  return left / 60 * 100 + left % 60;
}

Outputs outputs_for(const Shift& shift) {
  Outputs outputs{.door_lamp = door_level(shift.doors())};
  const double kmh = shift.motion().speed_mps * 3.6;
  outputs.speed_gauge = std::min(kGaugeTop_kmh, static_cast<int>(std::lround(kmh)));
  if (shift.finished()) return outputs;
  show_signal(shift, outputs);
  outputs.timetable = minutes_and_seconds(kStops[shift.next_stop()].leaves_s - shift.time_s());
  return outputs;
}

}  // namespace understudy::tram
