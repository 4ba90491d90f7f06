// What is constant about one reading of the board's program: where its voltage or level comes from.
// The inner loop of a device goes through these, one after the other.
#pragma once

#include <array>
#include <cstdint>
#include <memory>
#include <vector>

#include "sim/controls/pot.h"
#include "sim/controls/sensor.h"
#include "sim/device/moved_part.h"
#include "sim/model/panel.h"

namespace understudy {

enum class ReadWay : std::uint8_t {
  kTrack,    // a wiper, by the converter
  kSensor,   // a sensor, by the converter
  kContact,  // a contact of its own, by a pin
  kClick,    // one of the contacts of what clicks
  kCount,    // the count that its interrupts keep
  kCell,     // a crossing of the matrix
};

// What a digital pin reads with its contact open and closed, by what it read before (0: low):
// between its thresholds a pin keeps what it had.
struct PinReadings {
  std::array<bool, 2> open = {false, true};
  std::array<bool, 2> closed = {false, true};
};

struct ChannelPlan {
  ReadWay way = ReadWay::kTrack;
  std::uint8_t pin = 0;      // which pin of its control
  std::uint16_t part = 0;    // which of the device's moved parts
  std::uint16_t sensor = 0;  // or which of its sensors
  MatrixCell cell;
  std::int64_t noise_uv = 0;
  std::int64_t residue_in_2_24 = 0;  // of the channel before, left in the hold capacitor
  Track track;                       // of a wiper
  PinReadings readings;              // of a contact
};

// A button of the matrix: where it is, and which moved part.
struct CellPlan {
  std::uint16_t part = 0;
  MatrixCell cell;
  bool conducts = true;  // closed, it pulls a pin down: a worn contact may not
};

// All of a panel; made once.
struct ReadingPlans {
  std::vector<ChannelPlan> channels;      // as channels_of() has them
  std::vector<MovedPartPlan> parts;       // in the order of controls, hand_parts() of each
  std::vector<std::uint16_t> first_part;  // of each control
  std::vector<SensorPlan> sensors;
  std::vector<std::uint16_t> first_sensor;  // of each control: how many sensors stand before it
  std::vector<CellPlan> cells;
  bool diodes = true;
};
ReadingPlans plan_readings(const PanelDescription& panel);

}  // namespace understudy
