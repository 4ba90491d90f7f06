// All that is constant about a device: the panel and what is worked out from it once. Shared by all
// copies of the device.
#pragma once

#include <array>
#include <memory>
#include <string>
#include <vector>

#include "sim/board/adc.h"
#include "sim/controls/pot.h"
#include "sim/manners/program.h"
#include "sim/model/panel.h"
#include "sim/wire/uart.h"

namespace understudy {

struct DeviceOptions {
  std::uint64_t seed = 1;
  std::string name;          // keys the streams: "NAME.control.power.noise"
  bool whole_lines = false;  // each line as one chunk, at its last byte: not byte-true
};

// What a digital pin reads with its contact open and closed, by what it read before (0: low):
// between its thresholds a pin keeps what it had.
struct PinReadings {
  std::array<bool, 2> open = {false, true};
  std::array<bool, 2> closed = {false, true};
};

// What is constant about reading one control, close together: the inner loop goes through it.
struct ControlPlan {
  bool analogue = false;
  std::int64_t noise_uv = 0;
  std::int64_t residue_in_2_24 = 0;  // of the channel before, left in the hold capacitor
  Track track;                       // of a pot
  PinReadings pin;                   // of a contact
  ContactPart contact;
};

struct Blueprint {
  std::shared_ptr<const Panel> panel;
  DeviceOptions options;
  Program program;
  Adc adc;
  std::vector<ControlPlan> controls;
  std::int64_t supply_uv = 0;
  Duration digital_read;
  Ratio board_baud;  // true speed of the board's end
  Ratio board_byte_time;
  Duration print_ring_time;  // what a full print ring takes to drain
  ReceiverRange host_range;  // what the computer's receiver can read
  ReceiverRange board_range;
  int board_samples_per_bit = 16;
  int bits_per_byte = 10;
};

std::shared_ptr<const Blueprint> make_blueprint(std::shared_ptr<const Panel> panel,
                                                const DeviceOptions& options);

// The computer's true speed where the game asked for `baud`.
Ratio host_baud(const WireDescription& wire, std::int64_t baud);

}  // namespace understudy
