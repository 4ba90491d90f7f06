// The sky over one shift: clear, rain, fog, snow, and how the rail and the view suffer from it.
// A pure function of the seed and the time; painting and hearing it is left to others.
#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <string_view>

#include "scenarios/tram/game/rules/physics.h"

namespace understudy::tram {

enum class Sky { clear, rain, fog, snow };
constexpr std::size_t kSkyCount = 4;

std::string_view name_of(Sky sky);
// Nothing for a word that names no sky.
std::optional<Sky> sky_named(std::string_view name);

// Amounts from 0 (none) to 1 (as much as there ever is). They fade, so that nothing jumps.
struct Weather {
  Sky sky = Sky::clear;  // what it is now, or is changing to
  double rain = 0.0;
  double fog = 0.0;
  double snow = 0.0;
  double wet = 0.0;  // of the road: outlasts the rain
};

constexpr double kSkyComes_s = 15.0;  // to come, and to go
constexpr double kRoadDries_s = 60.0;

class Forecast {
 public:
  // Each sky once, in an order and for times that the seed chooses; then round again. A shift does
  // not begin in fog or snow: the first stretch is for learning.
  explicit Forecast(std::uint64_t seed);
  // The same sky all night.
  explicit Forecast(Sky sky);

  Weather at(double time_s) const;

 private:
  double amount(Sky sky, double time_s, double goes_s) const;

  std::array<Sky, kSkyCount> order_{};
  std::array<double, kSkyCount + 1> begins_s_{};  // the last: the round's length
};

// How far the driver sees a signal: the whole way ahead, half of it in snow, 90 m in thick fog.
double sight_m(const Weather& weather);

// What an open rail is like: dew of a fog counts as wet.
Rail rail_under(const Weather& weather);

}  // namespace understudy::tram
