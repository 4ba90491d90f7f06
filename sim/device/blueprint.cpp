// Works out the constants of a device.
#include "sim/device/blueprint.h"

#include "sim/base/check.h"

namespace understudy {
namespace {

// A native port moves a full frame of 19 packets of 64 bytes in a millisecond (USB 2.0, chapter 5).
constexpr Ratio kNativeByteTime{1'000'000, 1'216};
constexpr int kBootTextBits = 10;  // 8N1

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
  made->readings = plan_readings(description);
  CHECK(made->readings.parts.size() <= kHandPartsMax, "the loader let too many parts pass");
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
  made->boot_text_baud =
      with_error({description.board.boot_text_baud, 1}, wire.board_clock_error_ppm);
  made->boot_text_byte_time = byte_time(made->boot_text_baud, kBootTextBits);
  made->print_ring_time = {description.board.print_ring_bytes * made->board_byte_time.num /
                           made->board_byte_time.den};
  made->host_range = receiver_range(data_and_parity, 16);
  made->board_range = receiver_range(data_and_parity, made->board_samples_per_bit);
  return made;
}

}  // namespace understudy
