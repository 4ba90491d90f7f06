// A gesture: how a hand moves one control from a place to another. Position over time, no physics
// of the control itself.
// Model of the minimum-jerk curve: Flash and Hogan, J. Neurosci. 5 (1985): 10 s^3 - 15 s^4 + 6 s^5.
#pragma once

#include <cstdint>

#include "sim/base/time.h"
#include "sim/model/inputs.h"

namespace understudy {

inline constexpr std::int32_t kWholeTurn = 1'000'000;
inline constexpr std::int32_t kTurnedMost = 1'000 * kWholeTurn;

// A regular value. Positions in millionths of the travel.
class Gesture {
 public:
  Gesture() = default;
  // At rest from the beginning.
  explicit Gesture(std::int32_t at_ppm) : from_ppm_(at_ppm), to_ppm_(at_ppm) {}

  // Starts moving at `t` from wherever it is then. Any move under way ends there. Goals beyond the
  // travel and lengths outside of [0, kGestureLengthMax] are held to the nearest possible.
  void move(Instant t, std::int32_t to_ppm, Duration duration, Curve curve);

  // Turns by so much from where it was going, without ends: a knob that goes round and round.
  // Positions stay within kTurnedMost of 0, by whole turns, so that no number overflows.
  void turn(Instant t, std::int32_t by_ppm, Duration duration, Curve curve);

  // Where it is. REQUIRES: t not before the last move began.
  [[nodiscard]] std::int32_t position_ppm(Instant t) const {
    if (t >= ends_) return to_ppm_;
    return position_under_way(t);
  }
  [[nodiscard]] std::int32_t goal_ppm() const { return to_ppm_; }
  // Where the last move began.
  [[nodiscard]] std::int32_t from_ppm() const { return from_ppm_; }
  // When the last move first was at `ppm` or beyond, seen in its direction.
  // REQUIRES: ppm lies between from_ppm() and goal_ppm()
  [[nodiscard]] Instant reached(std::int32_t ppm) const;
  [[nodiscard]] Instant ends() const { return ends_; }
  // When it is half way between start and goal: where a button or switch changes.
  [[nodiscard]] Instant half_way() const { return begins_ + (ends_ - begins_) / 2; }

  template <class Digest>
  void add_to(Digest& digest) const {
    digest.add(begins_.ns);
    digest.add(ends_.ns);
    digest.add(static_cast<std::int64_t>(from_ppm_));
    digest.add(static_cast<std::int64_t>(to_ppm_));
    digest.add(static_cast<std::int64_t>(curve_));
  }

 private:
  [[nodiscard]] std::int32_t position_under_way(Instant t) const;
  void set_out(Instant t, std::int32_t to_ppm, Duration duration, Curve curve);
  Instant begins_;
  Instant ends_;
  std::int32_t from_ppm_ = 0;
  std::int32_t to_ppm_ = 0;
  Curve curve_ = Curve::kAtOnce;
};

// The share of the way covered at share s of the time, both in [0, 1]: + - * only.
double minimum_jerk(double s);

}  // namespace understudy
