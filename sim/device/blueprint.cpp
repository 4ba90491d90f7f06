// Works out the constants of a device.
#include "sim/device/blueprint.h"

#include <algorithm>

#include "sim/base/check.h"
#include "sim/board/pins.h"

namespace understudy {
namespace {

// A native port moves a full frame of 19 packets of 64 bytes in a millisecond (USB 2.0, chapter 5).
constexpr Ratio kNativeByteTime{1'000'000, 1'216};

std::int64_t residue_of(const ControlDescription& control, const BoardDescription& board) {
  if (control.kind != ControlKind::kPot) return 0;
  const std::int64_t source = std::max(control.pot.source_mohm, control.pot.resistance_mohm / 4);
  const Duration window{1'500'000'000'000 / board.adc_clock_mhz};
  return settling_residue_in_2_24(source, board.adc_series_mohm, board.hold_capacitor_ff, window);
}

PinReadings pin_readings_of(const ControlDescription& control, const BoardDescription& board) {
  PinReadings pin;
  if (control.kind == ControlKind::kPot) return pin;
  const ContactPart& part = control.contact;
  for (const bool closed : {false, true}) {
    const std::int64_t microvolts =
        pin_microvolts(closed, part.contact_mohm, part.wired, board.pull_up_mohm, board.supply_uv);
    for (const std::size_t before : {0U, 1U})
      (closed ? pin.closed : pin.open)[before] =
          level_read(microvolts, board.supply_uv, before != 0);
  }
  return pin;
}

}  // namespace

Ratio host_baud(const WireDescription& wire, std::int64_t baud) {
  return with_error({baud, 1}, wire.host_clock_error_ppm);
}

std::shared_ptr<const Blueprint> make_blueprint(std::shared_ptr<const Panel> panel,
                                                const DeviceOptions& options) {
  const PanelDescription& description = panel->description;
  CHECK(description.controls.size() <= kControlsMax, "the loader let too many controls pass");
  CHECK(description.outputs.size() <= kOutputsMax, "the loader let too many outputs pass");
  CHECK(panel->game_formats.size() <= kFormatsMax, "the loader let too many formats pass");
  auto made = std::make_shared<Blueprint>();
  made->panel = panel;
  made->options = options;
  made->program = Program(*panel);
  made->adc = Adc(description.board);
  for (const ControlDescription& control : description.controls) {
    const bool pot = control.kind == ControlKind::kPot;
    made->controls.push_back({.analogue = pot,
                              .noise_uv = control.pot.noise_uv,
                              .residue_in_2_24 = residue_of(control, description.board),
                              .track = pot ? Track(control.pot) : Track(),
                              .pin = pin_readings_of(control, description.board),
                              .contact = control.contact});
  }
  made->supply_uv = description.board.supply_uv;
  made->digital_read = description.board.digital_read;
  const WireDescription& wire = description.wire;
  const int data_and_parity = wire.data_bits + (wire.parity == Parity::kNone ? 0 : 1);
  made->bits_per_byte = bits_per_byte(wire);
  made->board_samples_per_bit = board_samples_per_bit(description.board, wire);
  made->board_baud = board_baud(description.board, wire);
  made->board_byte_time = wire.kind == WireKind::kNativeUsb
                              ? kNativeByteTime
                              : byte_time(made->board_baud, made->bits_per_byte);
  made->print_ring_time = {description.board.print_ring_bytes * made->board_byte_time.num /
                           made->board_byte_time.den};
  made->host_range = receiver_range(data_and_parity, 16);
  made->board_range = receiver_range(data_and_parity, made->board_samples_per_bit);
  return made;
}

}  // namespace understudy
