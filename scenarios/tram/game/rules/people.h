// People who wander onto the track ahead of the tram and leave it when the bell rings.
// Nobody is ever hurt: whoever hears no bell steps back at the last moment, with a fright.
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>

namespace understudy::tram {

enum class Walker { away, on_track, leaving, gone };

constexpr std::size_t kWalkers = 5;
constexpr double kWalkerSees_m = 130.0;  // steps onto the track when the tram is this near
constexpr double kBellHeard_m = 110.0;
constexpr double kLastMoment_m = 5.0;
constexpr double kLeaves_s = 1.5;  // from the bell until the track is free

class People {
 public:
  // One walker between each two stops, at places that the seed chooses.
  explicit People(std::uint64_t seed);

  struct Inputs {
    double front_m = 0.0;
    double speed_mps = 0.0;
    bool bell = false;
  };
  // Returns how many took fright in this step.
  int advance(double seconds, const Inputs& inputs);

  double at_m(std::size_t index) const { return walkers_[index].at_m; }
  Walker state(std::size_t index) const { return walkers_[index].state; }
  // From 0 (on the rail) to 1 (off it), for the picture.
  double left_share(std::size_t index) const;
  // Somebody stands on the track within the bell's reach.
  bool in_the_way(double front_m) const;

 private:
  struct One {
    double at_m = 0.0;
    Walker state = Walker::away;
    double leaving_for_s = 0.0;
    double waited_s = 0.0;  // for a tram that stands before them
  };
  std::array<One, kWalkers> walkers_;
};

}  // namespace understudy::tram
