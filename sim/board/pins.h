// Digital pins: what level the chip reads from a voltage, and what voltage a contact with its
// pull-up makes. Between the two thresholds the pin keeps what it had.
// Source: ATmega328P data sheet 8271H, table 29-1: VIL max 0.3 Vcc, VIH min 0.6 Vcc (2.4 to 5.5 V).
#pragma once

#include <cstdint>

#include "sim/model/panel_description.h"

namespace understudy {

constexpr bool level_read(std::int64_t microvolts, std::int64_t supply_uv, bool before) {
  if (microvolts * 10 <= supply_uv * 3) return false;
  if (microvolts * 10 >= supply_uv * 6) return true;
  return before;
}

// The voltage at a pin whose contact joins it to the other side of its resistor (pull-up: ground;
// pull-down: supply). Open: the resistor wins alone.
constexpr std::int64_t pin_microvolts(bool closed, std::int64_t contact_mohm, Wiring wired,
                                      std::int64_t resistor_mohm, std::int64_t supply_uv) {
  const bool up = wired == Wiring::kPullUp;
  if (!closed) return up ? supply_uv : 0;
  const auto low_side =
      static_cast<__int128>(supply_uv) * contact_mohm / (contact_mohm + resistor_mohm);
  return up ? static_cast<std::int64_t>(low_side) : supply_uv - static_cast<std::int64_t>(low_side);
}

}  // namespace understudy
