// The cycle and the search for the next signal; see signals.h.
#include "scenarios/tram/game/rules/signals.h"

#include <cmath>

#include "scenarios/tram/game/rules/chance.h"
#include "scenarios/tram/game/rules/line_of_stops.h"

namespace understudy::tram {

Aspect aspect_at_phase(double phase_s) {
  const double phase = phase_s - kCycle_s * std::floor(phase_s / kCycle_s);
  if (phase < kGreen_s) return Aspect::green;
  return phase < kGreen_s + kAmber_s ? Aspect::amber : Aspect::red;
}

Signals::Signals(std::uint64_t seed) : shift_s_(Chance(seed).between(0.0, kCycle_s)) {}

Aspect Signals::aspect(std::size_t index, double time_s) const {
  return aspect_at_phase(time_s + kSignals[index].offset_s + shift_s_);
}

std::size_t Signals::next_after(double position_m) {
  std::size_t index = 0;
  while (index < kSignals.size() && kSignals[index].at_m < position_m) ++index;
  return index;
}

}  // namespace understudy::tram
