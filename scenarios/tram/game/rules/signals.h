// What a signal shows when: each runs its own cycle of green, amber and red for crossing traffic.
// Amber lasts long enough to stop calmly from the speed limit in the wet.
#pragma once

#include <cstddef>
#include <cstdint>

namespace understudy::tram {

enum class Aspect { green, amber, red };

constexpr double kGreen_s = 26.0;
constexpr double kAmber_s = 8.0;
constexpr double kRed_s = 14.0;
constexpr double kCycle_s = kGreen_s + kAmber_s + kRed_s;

// The aspect at a phase of the cycle, in seconds; any number, also negative ones.
Aspect aspect_at_phase(double phase_s);

// The signals of one shift: their offsets are the line's, shifted together by the seed.
class Signals {
 public:
  explicit Signals(std::uint64_t seed);

  // REQUIRES: index < kSignals.size()
  Aspect aspect(std::size_t index, double time_s) const;

  // The first signal ahead of a position; kSignals.size() if there is none.
  static std::size_t next_after(double position_m);

 private:
  double shift_s_;
};

}  // namespace understudy::tram
