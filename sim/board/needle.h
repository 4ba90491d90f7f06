// The needle of a gauge, turned by a small servo: at most so fast, past its goal, and back in a
// damped swing. Where a number points to is here too; what it draws is load.h's work.
//
//        goal  - - - - - _.-._ - - - - -      two whole swings of a damped sine, which begins at
//                      .'     '-._.-._____    the speed that the needle arrives with
//        from  ______/ slew | swing |
//
// Model: the servo's slew as data sheets give it (seconds for 60 degrees); the swing is that of a
// second-order system with a damping ratio of 1/2, as wide as the overshoot of this step says. A
// table of it is made by + - * alone when the program is compiled, and kept as whole numbers.
#pragma once

#include <cstdint>

#include "sim/base/time.h"
#include "sim/model/output_description.h"

namespace understudy {

// A regular value. Angles in thousandths of a degree from the least to the most; a swing may pass
// both ends of the scale, as a servo's stops lie beyond it.
class Needle {
 public:
  Needle() = default;
  // At rest from the beginning.
  explicit Needle(std::int64_t at_mdeg)
      : from_mdeg_(static_cast<std::int32_t>(at_mdeg)), goal_mdeg_(from_mdeg_) {}

  // Starts for `goal` at t from wherever it is then. The goal that it has already changes nothing.
  // REQUIRES: t not before the last change; part.slew_mdeg_per_s > 0
  void set(Instant t, std::int64_t goal_mdeg, const GaugePart& part);
  // Nothing tells the servo where to go any more (the board restarts): it stays where it is.
  void let_go(Instant t);

  // Where it is. REQUIRES: t not before the last change
  [[nodiscard]] std::int64_t angle_mdeg(Instant t) const;
  [[nodiscard]] std::int64_t goal_mdeg() const { return goal_mdeg_; }
  // Whether its motor works.
  [[nodiscard]] bool moving(Instant t) const { return t < ends_; }
  // When it is at rest if nothing changes.
  [[nodiscard]] Instant ends() const { return ends_; }

  template <class Digest>
  void add_to(Digest& digest) const {
    digest.add(begins_.ns);
    digest.add(arrives_.ns);
    digest.add(ends_.ns);
    digest.add(std::int64_t{from_mdeg_});
    digest.add(std::int64_t{goal_mdeg_});
    digest.add(std::int64_t{swing_mdeg_});
  }

 private:
  Instant begins_;
  Instant arrives_;
  Instant ends_;
  std::int32_t from_mdeg_ = 0;
  std::int32_t goal_mdeg_ = 0;
  std::int32_t swing_mdeg_ = 0;  // how far beyond the goal, in the direction of the movement
};

// Where a gauge points for a wire number: even over the range it takes, held to its ends.
std::int64_t gauge_goal_mdeg(std::int64_t number, const OutputDescription& gauge);

}  // namespace understudy
