// The levels of lamps.h.
#include "scenarios/tram/game/rules/lamps.h"

#include "scenarios/tram/game/rules/shift.h"

namespace understudy::tram {

namespace {

constexpr int kLampFaint = 50;
constexpr int kLampHalf = 130;
constexpr double kNear_m = 100.0;
constexpr double kInSight_m = 250.0;

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

}  // namespace

Lamps lamps_for(const Shift& shift) {
  Lamps lamps{.door_lamp = door_level(shift.doors())};
  const std::size_t index = Signals::next_after(shift.motion().position_m);
  if (index >= kSignals.size() || shift.finished()) return lamps;
  const int level = signal_level(kSignals[index].at_m - shift.motion().position_m);
  switch (shift.signals().aspect(index, shift.time_s())) {
    case Aspect::red:
      lamps.signal_red = level;
      break;
    case Aspect::amber:
      lamps.signal_amber = level;
      break;
    case Aspect::green:
      lamps.signal_green = level;
      break;
  }
  return lamps;
}

}  // namespace understudy::tram
