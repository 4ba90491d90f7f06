// The round of skies of weather.h, and what each does to rail and view.
#include "scenarios/tram/game/rules/weather.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <utility>

#include "scenarios/tram/game/rules/chance.h"

namespace understudy::tram {

namespace {

constexpr std::array<std::string_view, kSkyCount> kNames = {"clear", "rain", "fog", "snow"};
constexpr double kLasts_s_min = 100.0;
constexpr double kLasts_s_max = 140.0;
constexpr double kSight_m = 600.0;
constexpr double kSightInSnow_m = 300.0;
constexpr double kSightInFog_m = 90.0;

}  // namespace

std::string_view name_of(Sky sky) {
  return kNames[static_cast<std::size_t>(sky)];
}

std::optional<Sky> sky_named(std::string_view name) {
  const auto found = std::find(kNames.begin(), kNames.end(), name);
  if (found == kNames.end()) return std::nullopt;
  return static_cast<Sky>(found - kNames.begin());
}

Forecast::Forecast(std::uint64_t seed) : order_{Sky::clear, Sky::rain, Sky::fog, Sky::snow} {
  Chance chance(seed ^ 0x77656174686572u);
  for (std::size_t last = kSkyCount - 1; last > 0; --last) {
    std::swap(order_[last], order_[chance.next() % (last + 1)]);
  }
  while (order_[0] == Sky::fog || order_[0] == Sky::snow) {
    std::rotate(order_.begin(), order_.begin() + 1, order_.end());
  }
  for (std::size_t index = 0; index < kSkyCount; ++index) {
    begins_s_[index + 1] = begins_s_[index] + chance.between(kLasts_s_min, kLasts_s_max);
  }
}

Forecast::Forecast(Sky sky) {
  order_.fill(sky);
  begins_s_.fill(std::numeric_limits<double>::infinity());
  begins_s_[0] = 0.0;
}

double Forecast::amount(Sky sky, double time_s, double goes_s) const {
  const double round_s = begins_s_[kSkyCount];
  if (std::isinf(round_s)) return order_[0] == sky ? 1.0 : 0.0;
  double most = 0.0;
  for (std::size_t index = 0; index < kSkyCount; ++index) {
    if (order_[index] != sky) continue;
    // This round's and the last one's: what went then may not have dried yet.
    for (const double round : {std::floor(time_s / round_s), std::floor(time_s / round_s) - 1.0}) {
      const double from_s = round * round_s + begins_s_[index];
      const double to_s = round * round_s + begins_s_[index + 1];
      const bool first = round <= 0.0 && index == 0;  // was there before the shift began
      if (round < 0.0 || time_s < from_s) continue;
      const double come = first ? 1.0 : std::min(1.0, (time_s - from_s) / kSkyComes_s);
      const double left = 1.0 - std::clamp((time_s - to_s) / goes_s, 0.0, 1.0);
      most = std::max(most, std::min(come, left));
    }
  }
  return most;
}

Weather Forecast::at(double time_s) const {
  Weather weather{.sky = order_[0]};
  const double round_s = begins_s_[kSkyCount];
  const double in_round_s =
      std::isinf(round_s) ? 0.0 : time_s - round_s * std::floor(time_s / round_s);
  for (std::size_t index = 0; index < kSkyCount; ++index) {
    if (in_round_s >= begins_s_[index]) weather.sky = order_[index];
  }
  weather.rain = amount(Sky::rain, time_s, kSkyComes_s);
  weather.fog = amount(Sky::fog, time_s, kSkyComes_s);
  weather.snow = amount(Sky::snow, time_s, kSkyComes_s);
  weather.wet = amount(Sky::rain, time_s, kRoadDries_s);
  return weather;
}

double sight_m(const Weather& weather) {
  const double in_snow = kSight_m + (kSightInSnow_m - kSight_m) * weather.snow;
  return std::min(in_snow, kSight_m + (kSightInFog_m - kSight_m) * weather.fog);
}

Rail rail_under(const Weather& weather) {
  if (weather.snow > 0.5) return Rail::snow;
  return weather.wet > 0.5 || weather.fog > 0.5 ? Rail::wet : Rail::dry;
}

}  // namespace understudy::tram
