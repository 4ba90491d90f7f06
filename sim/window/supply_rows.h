// What a running box draws, against what its parts may carry: per output, per group of pins, the
// chip and the port. As data; the area draws it. A caution is advice: the data sheets of the parts
// decide.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "sim/device/device.h"

namespace understudy {

struct SupplyRow {
  std::string name;             // "signal_red", "pins D0 to D4, together"
  std::int64_t now_ua = 0;      // on average over PWM
  std::int64_t limit_ua = 0;    // that it may ever carry; 0: no limit is known
  std::int64_t advised_ua = 0;  // that it should carry; 0: none is known
  std::string caution;          // a sentence; empty while all is well
};

struct SupplyRows {
  std::vector<SupplyRow> outputs;
  std::vector<SupplyRow> sums;  // groups that carry something, the chip, the port
  std::int64_t voltage_uv = 0;
  std::int64_t supply_uv = 0;
  std::int64_t brown_out_uv = 0;  // 0: the chip holds out at any voltage
  std::string caution;            // about the voltage
};

SupplyRows supply_rows(const Device& device);

// "12.5 mA".
std::string milliamperes_text(std::int64_t ua);

}  // namespace understudy
