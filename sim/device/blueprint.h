// All that is constant about a device: the panel and what is worked out from it once. Shared by all
// copies of the device.
#pragma once

#include <memory>
#include <string>
#include <vector>

#include "sim/board/adc.h"
#include "sim/device/channel_plan.h"
#include "sim/manners/program.h"
#include "sim/model/panel.h"
#include "sim/wire/uart.h"

namespace understudy {

struct DeviceOptions {
  std::uint64_t seed = 1;
  std::string name;          // keys the streams: "NAME.control.power.noise"
  bool whole_lines = false;  // each line as one chunk, at its last byte: not byte-true
};

struct Blueprint {
  std::shared_ptr<const Panel> panel;
  DeviceOptions options;
  Program program;
  Adc adc;
  ReadingPlans readings;
  std::int64_t supply_uv = 0;
  Duration digital_read;
  Ratio board_baud;  // true speed of the board's end
  Ratio board_byte_time;
  Ratio boot_text_baud;  // true speed of what the chip itself sends
  Ratio boot_text_byte_time;
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
