// Numbers that look random and are the same on every machine for one seed (SplitMix64, as published
// by Steele, Lea and Flood in 2014). Whoever needs chance gets one of these handed in.
#pragma once

#include <cstdint>

namespace understudy::tram {

class Chance {
 public:
  explicit Chance(std::uint64_t seed) : state_(seed) {}

  std::uint64_t next() {
    state_ += 0x9e3779b97f4a7c15u;
    std::uint64_t mixed = state_;
    mixed = (mixed ^ (mixed >> 30)) * 0xbf58476d1ce4e5b9u;
    mixed = (mixed ^ (mixed >> 27)) * 0x94d049bb133111ebu;
    return mixed ^ (mixed >> 31);
  }

  // From 0 (included) to 1 (excluded).
  double share() { return static_cast<double>(next() >> 11) * 0x1.0p-53; }

  // From `from` (included) to `to` (excluded).
  double between(double from, double to) { return from + (to - from) * share(); }

 private:
  std::uint64_t state_;
};

}  // namespace understudy::tram
