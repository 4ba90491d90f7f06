// The boards themselves. Sources of every number: docs/models/boards.md; those marked "common
// practice" have no published source.
#include "sim/panel/presets.h"

#include <array>

namespace understudy {
namespace {

using Pins = std::vector<std::string>;

// Loop and flush timer run on two clocks, and drift through each other as on a real desk; in step
// for ever, they would cut every line at the same place.
constexpr std::int64_t kResonatorErrorPpm = -2'000;
constexpr std::int64_t kCrystalErrorPpm = -30;

constexpr std::array<PresetText, 6> kPresets = {{
    {"bootloader-8bit",
     "ATmega328P at 16 MHz and 5 V behind a USB bridge; opening the port "
     "restarts it: 1.5 s of silence"},
    {"bridge-16ms", "the same behind a bridge that waits up to 16 ms to fill packets of 62 bytes"},
    {"native-usb-32bit",
     "a 32-bit chip at 3.3 V with USB of its own, 12-bit readings and no "
     "restart; it speaks only while DTR is raised"},
    {"native-usb-8bit",
     "ATmega32U4 at 16 MHz and 5 V with USB of its own, twelve analogue pins and no restart; "
     "it speaks only while DTR is raised"},
    {"large-8bit",
     "ATmega2560 at 16 MHz and 5 V behind a USB bridge: 16 analogue and 54 digital pins; "
     "opening the port restarts it: 1 to 3 s of silence"},
    {"boot-text",
     "ESP8266EX at 3.3 V behind a USB bridge; opening the port restarts it, and its ROM then "
     "sends text at 74880 baud, which reads as garbage at any other speed"},
}};

Pins numbered(const char* letter, int first, int last) {
  Pins pins;
  for (int i = first; i <= last; ++i) pins.push_back(letter + std::to_string(i));
  return pins;
}

Pins joined(Pins a, const Pins& b) {
  a.insert(a.end(), b.begin(), b.end());
  return a;
}

// Port C is A0..A5, port D is D0..D7, port B is D8..D13.
std::vector<PortGroup> groups_of_328p() {
  const Pins port_c = numbered("A", 0, 5);
  const Pins port_d_low = numbered("D", 0, 4);
  const Pins port_d_high_and_b = numbered("D", 5, 13);
  return {
      {port_c, true, 100'000},
      {port_d_high_and_b, true, 100'000},
      {port_d_low, true, 100'000},
      {joined(port_c, port_d_low), false, 150'000},
      {port_d_high_and_b, false, 150'000},
  };
}

BoardDescription bootloader_8bit() {
  BoardDescription board;
  board.chip = "ATmega328P";
  board.supply_uv = 5'000'000;
  board.reference_uv = 5'000'000;
  board.adc_bits = 10;
  board.adc_clock_mhz = 125'000'000;
  board.cpu_clock_mhz = 16'000'000'000;
  board.double_speed = true;
  board.digital_read = microseconds(4);
  board.boot = milliseconds(1'500);
  board.boot_spread = milliseconds(300);
  board.print_ring_bytes = 64;
  board.receive_ring_bytes = 64;
  board.pull_up_mohm = 35'000'000;
  board.hold_capacitor_ff = 14'000;
  board.adc_series_mohm = 10'000'000;
  board.analogue_pins = numbered("A", 0, 5);
  board.digital_pins = joined(numbered("D", 0, 13), numbered("A", 0, 5));
  board.pwm_pins = {"D3", "D5", "D6", "D9", "D10", "D11"};
  board.serial_pins = {"D0", "D1"};
  board.phase_correct_pwm = true;
  board.pin_limit_ua = 40'000;
  board.pin_advised_ua = 20'000;
  board.chip_limit_ua = 200'000;
  board.supply_limit_ua = 500'000;
  board.base_current_ua = 45'000;
  board.supply_resistance_mohm = 1'000;
  board.brown_out_uv = 2'700'000;
  board.brown_out_after = milliseconds(10);
  board.groups = groups_of_328p();
  return board;
}

BoardDescription native_usb_32bit() {
  BoardDescription board;
  board.chip = "SAM D21";
  board.supply_uv = 3'300'000;
  board.reference_uv = 3'300'000;
  board.adc_bits = 12;
  board.adc_clock_mhz = 250'000'000;
  board.cpu_clock_mhz = 48'000'000'000;
  board.double_speed = false;
  board.digital_read = microseconds(1);
  board.boot = {};
  board.boot_spread = {};
  board.print_ring_bytes = 256;
  board.receive_ring_bytes = 256;
  board.pull_up_mohm = 40'000'000;
  board.hold_capacitor_ff = 3'500;
  board.adc_series_mohm = 3'500'000;
  board.analogue_pins = numbered("A", 0, 5);
  board.digital_pins = joined(numbered("D", 0, 13), numbered("A", 0, 5));
  board.pwm_pins = joined(numbered("D", 3, 6), numbered("D", 8, 13));
  board.serial_pins = {};
  board.phase_correct_pwm = false;
  board.pin_limit_ua = 10'000;
  board.pin_advised_ua = 7'000;
  board.chip_limit_ua = 92'000;
  board.supply_limit_ua = 500'000;
  board.base_current_ua = 25'000;
  board.supply_resistance_mohm = 100;
  board.brown_out_uv = 1'750'000;
  board.brown_out_after = milliseconds(10);
  return board;
}

// Beside 328P: more pins, in other ports. A0 to A7 are port F, A8 to A15 port K.
std::vector<PortGroup> groups_of_2560() {
  const Pins j_a_g2 = joined(joined(numbered("D", 14, 15), numbered("D", 22, 29)), {"D39"});
  const Pins c_d_l_g01 =
      joined(joined(numbered("D", 18, 21), numbered("D", 30, 38)), numbered("D", 40, 49));
  const Pins b_h_g34 =
      joined(joined(numbered("D", 6, 13), numbered("D", 16, 17)), numbered("D", 50, 53));
  const Pins e_g5 = numbered("D", 0, 5);
  const Pins f_k = numbered("A", 0, 15);
  std::vector<PortGroup> groups;
  for (const bool sinks : {true, false}) {
    for (const Pins& pins : {j_a_g2, c_d_l_g01, b_h_g34}) groups.push_back({pins, sinks, 200'000});
    for (const Pins& pins : {e_g5, f_k}) groups.push_back({pins, sinks, 100'000});
  }
  return groups;
}

BoardDescription large_8bit() {
  BoardDescription board = bootloader_8bit();
  board.chip = "ATmega2560";
  board.boot = milliseconds(2'000);
  board.boot_spread = milliseconds(1'000);
  board.analogue_pins = numbered("A", 0, 15);
  board.digital_pins = joined(numbered("D", 0, 53), numbered("A", 0, 15));
  board.pwm_pins = joined(numbered("D", 2, 13), numbered("D", 44, 46));
  board.base_current_ua = 75'000;
  board.groups = groups_of_2560();
  return board;
}

// A0 to A5 are port F.
std::vector<PortGroup> groups_of_32u4() {
  const Pins port_c = {"D5", "D13"};
  const Pins port_d = {"D0", "D1", "D2", "D3", "D4", "D6", "D12"};
  const Pins ports_b_and_e = numbered("D", 7, 11);
  const Pins port_f = numbered("A", 0, 5);
  std::vector<PortGroup> groups;
  for (const bool sinks : {true, false})
    for (const Pins& pins : {port_c, port_d, ports_b_and_e, port_f})
      groups.push_back({pins, sinks, 100'000});
  return groups;
}

BoardDescription native_usb_8bit() {
  BoardDescription board = bootloader_8bit();
  board.chip = "ATmega32U4";
  board.double_speed = false;
  board.boot = {};
  board.boot_spread = {};
  board.analogue_pins = joined(numbered("A", 0, 5), {"D4", "D6", "D8", "D9", "D10", "D12"});
  board.pwm_pins = {"D3", "D5", "D6", "D9", "D10", "D11", "D13"};
  board.serial_pins = {};
  board.base_current_ua = 35'000;
  board.brown_out_uv = 2'600'000;
  board.groups = groups_of_32u4();
  return board;
}

BoardDescription boot_text() {
  BoardDescription board;
  board.chip = "ESP8266EX";
  board.supply_uv = 3'300'000;
  board.reference_uv = 3'300'000;
  board.adc_bits = 10;
  board.adc_clock_mhz = 125'000'000;
  board.cpu_clock_mhz = 80'000'000'000;
  board.double_speed = true;
  board.digital_read = microseconds(1);
  board.boot = milliseconds(650);
  board.boot_spread = milliseconds(350);
  board.boot_text = "\r\nrom 1, reset cause 2, boot mode 3\r\nload 1384 bytes at 40100000\r\n";
  board.boot_text_baud = 74'880;
  board.print_ring_bytes = 128;
  board.receive_ring_bytes = 256;
  board.pull_up_mohm = 45'000'000;
  board.hold_capacitor_ff = 14'000;
  board.adc_series_mohm = 10'000'000;
  board.analogue_pins = {"A0"};
  board.digital_pins = {"D1", "D2", "D5", "D6", "D7", "D0", "D3", "D4", "D8"};
  board.pwm_pins = {"D1", "D2", "D5", "D6", "D7", "D3", "D4", "D8"};
  board.serial_pins = {};
  board.phase_correct_pwm = false;
  board.pin_limit_ua = 12'000;
  board.pin_advised_ua = 6'000;
  board.chip_limit_ua = 100'000;
  board.supply_limit_ua = 500'000;
  board.base_current_ua = 80'000;
  board.supply_resistance_mohm = 100;
  board.brown_out_uv = 2'500'000;
  board.brown_out_after = milliseconds(10);
  return board;
}

}  // namespace

std::span<const PresetText> presets() {
  return kPresets;
}

HostDescription default_host(WireKind kind) {
  HostDescription host;
  if (kind == WireKind::kNativeUsb) {
    host.flush = milliseconds(1);
    host.full = WhenFull::kHoldsTheBoard;
    host.dtr = DtrMeans::kOpensGate;
  } else {
    host.flush = milliseconds(4);
    host.full = WhenFull::kDropsNewest;
    host.dtr = DtrMeans::kRestarts;
  }
  return host;
}

bool apply_preset(std::string_view name, PanelDescription& panel) {
  WireDescription wire;
  wire.board_clock_error_ppm = kResonatorErrorPpm;
  if (name == "bootloader-8bit" || name == "bridge-16ms") {
    panel.board = bootloader_8bit();
  } else if (name == "large-8bit") {
    panel.board = large_8bit();
  } else if (name == "boot-text") {
    panel.board = boot_text();
    wire.board_clock_error_ppm = kCrystalErrorPpm;
  } else if (name == "native-usb-32bit" || name == "native-usb-8bit") {
    panel.board = name == "native-usb-32bit" ? native_usb_32bit() : native_usb_8bit();
    wire.kind = WireKind::kNativeUsb;
    wire.board_clock_error_ppm = kCrystalErrorPpm;
  } else {
    return false;
  }
  panel.wire = wire;
  panel.host = default_host(panel.wire.kind);
  if (name == "bridge-16ms") {
    panel.host.flush = milliseconds(16);
    panel.host.chunk_bytes_max = 62;
  }
  panel.board.preset = name;
  return true;
}

std::int64_t forward_uv_of(std::string_view colour) {
  if (colour == "red" || colour == "orange") return 2'000'000;
  if (colour == "blue" || colour == "white") return 3'200'000;
  return 2'100'000;
}

}  // namespace understudy
