// The handle's zones; see the drawing in handle.h.
#include "scenarios/tram/game/rules/handle.h"

#include <algorithm>

namespace understudy::tram {

namespace {

constexpr int kRailBrakeBelow = 30;
constexpr int kFullBrake = 40;
constexpr int kCoastFrom = 472;
constexpr int kCoastTo = 552;
constexpr int kFullPower = 1003;

double share(int part, int whole) {
  return std::clamp(static_cast<double>(part) / static_cast<double>(whole), 0.0, 1.0);
}

}  // namespace

Demand read_handle(int wire_number) {
  if (wire_number > kCoastTo) {
    return {.power = share(std::min(wire_number, kFullPower) - kCoastTo, kFullPower - kCoastTo)};
  }
  if (wire_number >= kCoastFrom) return {};
  const int pulled_back = kCoastFrom - std::max(wire_number, kFullBrake);
  return {.brake = share(pulled_back, kCoastFrom - kFullBrake),
          .rail_brake = wire_number < kRailBrakeBelow};
}

Demand safe_brake() {
  return {.brake = 0.5};
}

}  // namespace understudy::tram
