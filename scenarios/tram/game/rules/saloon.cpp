// One step of the heat balance in saloon.h.
#include "scenarios/tram/game/rules/saloon.h"

namespace understudy::tram {

void Saloon::advance(double seconds, const Inputs& inputs) {
  const double gain = kHeater_watt_max * inputs.heater_share + kPerson_watt * inputs.people;
  const double loss = kLoss_watt_per_kelvin + kDoors_watt_per_kelvin * inputs.doors_share;
  celsius += seconds * (gain - loss * (celsius - kNight_celsius)) / kSaloon_joule_per_kelvin;
}

}  // namespace understudy::tram
