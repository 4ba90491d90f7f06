// The line that the night tram runs on: stops with their timetable, signals, limits, wet leaves.
// A fixed table; what changes during a shift (who waits, what a signal shows) is not kept here.
#pragma once

#include <array>
#include <string_view>

#include "scenarios/tram/game/rules/physics.h"

namespace understudy::tram {

// Positions are metres from the start of the line; times are seconds of the shift.
struct Stop {
  std::string_view name;
  double mark_m;     // where the tram's front belongs
  double arrives_s;  // by the timetable
  double leaves_s;
  int boarding;  // people who wait here
  int alighting;
};

struct SignalPost {
  double at_m;
  double offset_s;  // where in its cycle it starts; a shift adds its own by chance
};

struct Stretch {
  double from_m;
  double to_m;
};

// Doors open only this near to the mark.
constexpr double kDoorsReach_m = 6.0;
constexpr double kLineEnd_m = 2420.0;

// lint: table
constexpr std::array<Stop, 6> kStops = {{
    {"Harbour Gate", 60.0, 0.0, 25.0, 6, 0},
    {"Lantern Street", 430.0, 90.0, 112.0, 5, 2},
    {"Weir Bridge", 900.0, 188.0, 210.0, 7, 3},
    {"Observatory", 1390.0, 288.0, 310.0, 4, 6},
    {"Orchard Row", 1850.0, 384.0, 406.0, 5, 5},
    {"Night Depot", 2350.0, 486.0, 520.0, 0, 11},
}};

constexpr std::array<SignalPost, 5> kSignals = {
    {{300.0, 0.0}, {760.0, 17.0}, {1230.0, 31.0}, {1690.0, 8.0}, {2180.0, 24.0}}};

constexpr std::array<Stretch, 2> kLeaves = {{{1090.0, 1200.0}, {1880.0, 2080.0}}};
constexpr Stretch kCovered = {560.0, 640.0};  // under the viaduct the rail stays dry
constexpr Stretch kSlowStretch = {800.0, 960.0};

// What the rail is like under the tram's front, where the open rail is `open`: under the viaduct it
// is dry in every weather, under the trees leaves lie on it.
Rail rail_at(double position_m, Rail open);

// Metres per second: 50 km/h, and 30 km/h over the slow stretch.
double speed_limit_mps(double position_m);

}  // namespace understudy::tram
