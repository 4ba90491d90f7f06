// Rows of the key table: the board and its groups of pins that share a limit.
#include <array>

#include "sim/panel/presets.h"
#include "sim/panel/readers.h"
#include "sim/panel/rows.h"

namespace understudy {
namespace {

using P = PanelDescription;
using B = BoardDescription;
constexpr auto kBoard = &P::board;

constexpr std::string_view kPwmWords = "fast|phase correct";
constexpr std::string_view kCarriesWords = "source|sink";
constexpr std::int64_t kTenAmperes = 10'000'000;
constexpr std::size_t kBootTextBytesMax = 256;
constexpr std::int64_t kTenSeconds = 10'000'000'000;

// Groups as a list of tables: replaces the preset's.
void read_groups(const KeyText& key, const Node& node, P& into, Mistakes& mistakes) {
  if (node.kind != NodeKind::kList) return add_wrong(key, node, mistakes);
  into.board.groups.clear();
  for (const Node& item : node.items) {
    if (item.kind != NodeKind::kTable) {
      add_wrong(key, item, mistakes);
      continue;
    }
    PortGroup group;
    read_table(keys_of_group(), item, group, mistakes);
    into.board.groups.push_back(std::move(group));
  }
}

std::string write_groups(const P& from) {
  std::string text;
  for (const PortGroup& group : from.board.groups)
    text += (text.empty() ? "" : ", ") + write_inline(keys_of_group(), group);
  return "[" + text + "]";
}

// The preset is applied before the table is read (rows.h, read_board); here it is only checked.
void check_preset(const KeyText& key, const Node& node, P&, Mistakes& mistakes) {
  (void)read_word(key, node, mistakes);
}

void read_boot_text(const KeyText& key, const Node& node, P& into, Mistakes& mistakes) {
  const auto text = read_text(key, node, mistakes);
  if (!text) return;
  if (text->size() <= kBootTextBytesMax)
    into.board.boot_text = *text;
  else
    add_wrong(key, node, mistakes, "leave its end out");
}

std::string write_boot_text(const P& from) {
  return quoted(from.board.boot_text);
}

std::string write_preset(const P& from) {
  return quoted(from.board.preset);
}

}  // namespace

// lint: table
std::span<const KeyOf<P>> board_rows() {
  using S = Section;
  // clang-format off
  static const auto rows = std::to_array<KeyOf<P>>({
      {{.section = S::kBoard, .name = "preset", .type = "the name of a preset",
          .fallback = "\"bootloader-8bit\"",
          .meaning = "The board whose values hold where this table gives "
        "none.", .example = "\"native-usb-32bit\"", .shape = ValueShape::kWord,
          .words = kPresetWords}, check_preset, write_preset},
      text_row<kBoard, &B::chip>({.section = S::kBoard, .name = "chip", .fallback = "the preset's",
          .meaning = "What the chip is called, for people.", .example = "\"ATmega328P\""}),
      quantity_row<Unit::kVoltage, kBoard, &B::supply_uv>({.section = S::kBoard, .name = "supply",
          .fallback = "the preset's",
          .meaning = "The supply of the chip and its lamps.", .example = "\"5 V\"",
          .least = 1'800'000,
          .most = 6'000'000}),
      quantity_row<Unit::kVoltage, kBoard, &B::reference_uv>({.section = S::kBoard,
          .name = "reference", .fallback = "the preset's",
          .meaning = "The voltage that the converter reads as its highest number.",
          .example = "\"5 V\"", .least = 1'000'000, .most = 6'000'000}),
      integer_row<kBoard, &B::adc_bits>({.section = S::kBoard, .name = "adc_bits",
          .fallback = "the preset's",
          .meaning = "Bits of an analogue reading: 10 bits read 0 to 1023.", .example = "10",
          .least = 6,
          .most = 16}),
      quantity_row<Unit::kFrequency, kBoard, &B::adc_clock_mhz>({.section = S::kBoard,
          .name = "adc_clock", .fallback = "the preset's",
          .meaning = "Clock of the converter; a reading takes 13 of its ticks and up to one more "
          "to begin.", .example = "\"125 kHz\"", .least = 10'000'000, .most = 20'000'000'000}),
      quantity_row<Unit::kFrequency, kBoard, &B::cpu_clock_mhz>({.section = S::kBoard,
          .name = "cpu_clock", .fallback = "the preset's",
          .meaning = "Clock of the chip; the serial port divides it, and not every baud divides "
          "well.", .example = "\"16 MHz\"", .least = 1'000'000'000, .most = 1'000'000'000'000}),
      flag_row<kBoard, &B::double_speed>({.section = S::kBoard, .name = "double_speed",
          .fallback = "the preset's",
          .meaning = "The serial port samples 8 times a bit instead of 16, which reaches more "
          "bauds.", .example = "true"}),
      quantity_row<Unit::kTime, kBoard, &B::digital_read>({.section = S::kBoard,
          .name = "digital_read", .fallback = "the preset's",
          .meaning = "What reading one button or switch costs.", .example = "\"4 us\"",
          .most = 1'000'000'000}),
      quantity_row<Unit::kTime, kBoard, &B::boot>({.section = S::kBoard, .name = "boot",
          .fallback = "the preset's",
          .meaning = "Silence after a restart.", .example = "\"1.5 s\"", .most = kTenSeconds}),
      quantity_row<Unit::kTime, kBoard, &B::boot_spread>({.section = S::kBoard,
          .name = "boot_spread", .fallback = "the preset's",
          .meaning = "By how much that silence may be shorter or longer; not more than boot.",
          .example = "\"0.3 s\"", .most = kTenSeconds}),
      {{.section = S::kBoard, .name = "boot_text", .type = "a text of at most 256 bytes",
          .fallback = "the preset's",
          .meaning = "What the chip itself sends at each restart before its program runs, 8N1; "
          "none of it over native USB.", .example = "\"\\r\\nreset 2, mode 3\\r\\n\"",
          .shape = ValueShape::kText}, read_boot_text, write_boot_text},
      integer_row<kBoard, &B::boot_text_baud>({.section = S::kBoard, .name = "boot_text_baud",
          .fallback = "the preset's",
          .meaning = "The speed of that text, whatever the program speaks: at another speed the "
          "game reads it as garbage.", .example = "74880", .least = 50, .most = 4'000'000}),
      quantity_row<Unit::kTime, kBoard, &B::boot_disturbed>({.section = S::kBoard,
          .name = "boot_disturbed", .fallback = "the preset's",
          .meaning = "A byte that arrives while the board starts keeps it in its loader: silence "
          "for so long after the last such byte, or until a restart; \"0 s\": bytes then are only "
          "lost.", .example = "\"9 s\"", .most = 6 * kTenSeconds}),
      integer_row<kBoard, &B::print_ring_bytes>({.section = S::kBoard, .name = "print_ring",
          .fallback = "the preset's",
          .meaning = "Bytes that printing can put aside; one stays free, and a "
          "full ring makes printing wait.", .example = "64", .least = 2, .most = 1024}),
      integer_row<kBoard, &B::receive_ring_bytes>({.section = S::kBoard, .name = "receive_ring",
          .fallback = "the preset's",
          .meaning = "Bytes from the game that wait for the loop; one stays free, "
          "and what comes beyond is lost.", .example = "64", .least = 2, .most = 1024}),
      quantity_row<Unit::kResistance, kBoard, &B::pull_up_mohm>({.section = S::kBoard,
          .name = "pull_up", .fallback = "the preset's",
          .meaning = "Resistance of the pull-ups in the chip.", .example = "\"35 kohm\"",
          .least = 1'000'000}),
      integer_row<kBoard, &B::hold_capacitor_ff>({.section = S::kBoard, .name = "hold_capacitor_ff",
          .type = "a whole number of femtofarads", .fallback = "the preset's",

                   .meaning = "The converter's sampling capacitor: what a weak "
                   "source does not fill in time shows as "
          "a ghost of the channel read before.", .example = "14000", .most = 1'000'000}),
      quantity_row<Unit::kResistance, kBoard, &B::adc_series_mohm>({.section = S::kBoard,
          .name = "adc_series", .fallback = "the preset's",
          .meaning = "Resistance inside the chip between pin and sampling capacitor.",
          .example = "\"10 kohm\""}),
      texts_row<kBoard, &B::analogue_pins>({.section = S::kBoard, .name = "analogue_pins",
          .type = "a list of pins",
          .fallback = "the preset's", .meaning = "Pins that a pot can be read on.",
          .example = "[\"A0\", \"A1\"]"}),
      texts_row<kBoard, &B::digital_pins>({.section = S::kBoard, .name = "digital_pins",
          .type = "a list of pins",
          .fallback = "the preset's", .meaning = "Pins for buttons, switches and lamps.",
          .example = "[\"D2\", \"D3\"]"}),
      texts_row<kBoard, &B::pwm_pins>({.section = S::kBoard, .name = "pwm_pins",
          .type = "a list of pins",
          .fallback = "the preset's", .meaning = "Pins that can dim a lamp.",
          .example = "[\"D3\", \"D5\"]"}),
      texts_row<kBoard, &B::serial_pins>({.section = S::kBoard, .name = "serial_pins",
          .type = "a list of pins",
          .fallback = "the preset's", .meaning = "Pins that the serial port takes for itself.",
          .example = "[\"D0\", \"D1\"]"}),
      word_row<kPwmWords, kBoard, &B::phase_correct_pwm>({.section = S::kBoard, .name = "pwm",
          .fallback = "the preset's",
          .meaning = "How a dimmed pin counts: fast gives (n+1)/256 of the time, phase correct "
          "n/255.", .example = "\"phase correct\""}),
      quantity_row<Unit::kCurrent, kBoard, &B::pin_limit_ua>({.section = S::kBoard,
          .name = "pin_limit", .fallback = "the preset's",
          .meaning = "The most a pin may ever carry: the data sheet's absolute maximum.",
          .example = "\"40 mA\"", .least = 1, .most = kTenAmperes}),
      quantity_row<Unit::kCurrent, kBoard, &B::pin_advised_ua>({.section = S::kBoard,
          .name = "pin_advised", .fallback = "the preset's",
          .meaning = "What a pin should carry at most in use.", .example = "\"20 mA\"", .least = 1,
          .most = kTenAmperes}),
      quantity_row<Unit::kCurrent, kBoard, &B::chip_limit_ua>({.section = S::kBoard,
          .name = "chip_limit", .fallback = "the preset's",
          .meaning = "The most that all pins of the chip may carry together.",
          .example = "\"200 mA\"", .least = 1, .most = kTenAmperes}),
      quantity_row<Unit::kCurrent, kBoard, &B::supply_limit_ua>({.section = S::kBoard,
          .name = "supply_limit",
          .fallback = "the preset's", .meaning = "What the supply gives, USB for example.",
          .example = "\"500 mA\"", .least = 1, .most = 10 * kTenAmperes}),
      quantity_row<Unit::kCurrent, kBoard, &B::base_current_ua>({.section = S::kBoard,
          .name = "base_current",
          .fallback = "the preset's", .meaning = "What the board draws with all lamps dark.",
          .example = "\"45 mA\"", .most = kTenAmperes}),
      quantity_row<Unit::kResistance, kBoard, &B::supply_resistance_mohm>({.section = S::kBoard,
          .name = "supply_resistance", .fallback = "the preset's",
          .meaning = "Of the cable and plugs that feed the board, there and back: what is drawn "
          "lowers the voltage at the chip by it.", .example = "\"1 ohm\"",
          .most = 1'000'000}),
      quantity_row<Unit::kVoltage, kBoard, &B::brown_out_uv>({.section = S::kBoard,
          .name = "brown_out", .fallback = "the preset's",
          .meaning = "A voltage at the chip below this restarts it, as does a load above "
          "supply_limit; \"0 V\": nothing does.", .example = "\"2.7 V\"", .most = 6'000'000}),
      quantity_row<Unit::kTime, kBoard, &B::brown_out_after>({.section = S::kBoard,
          .name = "brown_out_after", .fallback = "the preset's",
          .meaning = "How long that lasts before the chip restarts: capacitors bridge what is "
          "shorter.", .example = "\"10 ms\"", .least = 1'000'000, .most = 1'000'000'000}),
      {{.section = S::kBoard, .name = "groups", .type = "a list of tables with pins, carries and "
        "limit", .fallback = "the preset's", .meaning = "Sets of pins that share a current limit.",
        .example = "[{ pins = [\"D3\", \"D4\"], carries = \"sink\", limit = \"100 mA\" }]",
          .shape = ValueShape::kTables}, read_groups, write_groups},
  });
  // clang-format on
  return rows;
}

std::span<const KeyOf<PortGroup>> keys_of_group() {
  using S = Section;
  // clang-format off
  static const auto rows = std::to_array<KeyOf<PortGroup>>({
      texts_row<&PortGroup::pins>({.section = S::kGroup, .name = "pins", .type = "a list of pins",
          .fallback = "[]", .meaning = "The pins of the group.", .example = "[\"D3\", \"D4\"]"}),
      word_row<kCarriesWords, &PortGroup::sinks>({.section = S::kGroup, .name = "carries",
          .fallback = "\"source\"",
          .meaning = "Whether the limit is for current that the pins give (source) or take "
          "(sink).", .example = "\"sink\""}),
      quantity_row<Unit::kCurrent, &PortGroup::limit_ua>({.section = S::kGroup, .name = "limit",
          .fallback = "\"0 uA\"",
          .meaning = "The most that they may carry together.", .example = "\"100 mA\"",
          .most = kTenAmperes}),
  });
  // clang-format on
  return rows;
}

}  // namespace understudy
