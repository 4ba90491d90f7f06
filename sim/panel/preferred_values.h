// Preferred values of resistors: IEC 60063, series E12 and E24.
#pragma once

#include <cstdint>
#include <span>

namespace understudy {

// The values of one decade, 10 to 82 and 10 to 91.
std::span<const int> e12_values();
std::span<const int> e24_values();

// The smallest value of the series that is not below `mohm`, in milliohms; series values times any
// power of ten from 0.01 ohm on. REQUIRES: 0 < mohm <= 10^15
std::int64_t next_in_series(std::int64_t mohm, std::span<const int> series);

// The smallest resistance, in milliohms rounded up, that keeps (supply - forward) / R at or below
// `current_ua`. 0 where the LED gets no voltage at all. REQUIRES: current_ua > 0
std::int64_t resistance_for(std::int64_t across_uv, std::int64_t current_ua);

}  // namespace understudy
