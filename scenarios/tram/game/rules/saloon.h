// The air in the saloon: heated by the heater and the people, cooled by the night and open doors.
// One well-mixed volume; the numbers are from memory, the air's own heat made small so that a shift
// of eight minutes can show it.
#pragma once

namespace understudy::tram {

constexpr double kNight_celsius = 4.0;
constexpr double kHeater_watt_max = 40000.0;
constexpr double kPerson_watt = 100.0;
constexpr double kLoss_watt_per_kelvin = 1500.0;   // through walls and windows
constexpr double kDoors_watt_per_kelvin = 2500.0;  // more, with all doors open
constexpr double kSaloon_joule_per_kelvin = 250000.0;
constexpr double kWarm_from_celsius = 16.0;  // passengers are content between these
constexpr double kWarm_to_celsius = 24.0;

struct Saloon {
  double celsius = 15.0;

  struct Inputs {
    double heater_share = 0.0;  // 0 to 1
    double doors_share = 0.0;   // 0 shut, 1 open
    int people = 0;
  };
  void advance(double seconds, const Inputs& inputs);

  bool pleasant() const { return celsius >= kWarm_from_celsius && celsius <= kWarm_to_celsius; }
};

}  // namespace understudy::tram
