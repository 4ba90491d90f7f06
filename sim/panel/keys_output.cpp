// Rows of the key table: what all outputs share, and the list of their kinds.
#include "protocol/field.h"
#include "sim/panel/kind_rows.h"
#include "sim/panel/output_kinds.h"
#include "sim/panel/presets.h"
#include "sim/panel/readers.h"
#include "sim/panel/sends.h"
#include "sim/panel/shared_readers.h"

namespace understudy {
namespace {

using O = OutputDescription;

constexpr std::string_view kWiredWords = "to ground|to supply";

// Every kind, one line each, in the order of OutputKind.
const std::vector<OutputKindRow>& kind_list() {
  static const std::vector<OutputKindRow> kinds = {
      lamp_kind(),    //
      rgb_kind(),     //
      gauge_kind(),   //
      buzzer_kind(),  //
      digits_kind(),  //
  };
  return kinds;
}

// Rows keep views of these.
const std::string& all_words() {
  static const std::string words = joined_words(kind_list());
  return words;
}
const std::string& all_meanings() {
  static const std::string meanings = joined_meanings(kind_list());
  return meanings;
}

// The kind brings what it takes, which keys behind it may change.
void read_kind(const KeyText& key, const Node& node, O& into, Mistakes& mistakes) {
  const auto index = read_word(key, node, mistakes);
  if (!index) return;
  into.kind = static_cast<OutputKind>(*index);
  into.sends.low = output_kind(into.kind).takes.low;
  into.sends.high = output_kind(into.kind).takes.high;
}

void read_takes(const KeyText& key, const Node& node, O& into, Mistakes& mistakes) {
  const TakesRule& rule = output_kind(into.kind).takes;
  const bool hertz = into.kind == OutputKind::kBuzzer && into.buzzer.pitched;
  KeyText right = key;
  right.type =
      hertz ? "0 for silence and the highest pitch in hertz, such as [0, 5000]" : rule.type;
  const SendsAllowed allowed{.words_min = hertz ? 0 : rule.words_min,
                             .words_max = hertz ? 0 : rule.words_max};
  read_sends(right, node, allowed, into.sends, mistakes);
  // Without a 0 it could never be silenced.
  if (hertz && into.sends.low != 0) add_wrong(right, node, mistakes);
}

// The colour brings its forward voltage, which its own key may change.
void read_colour(const KeyText& key, const Node& node, O& into, Mistakes& mistakes) {
  if (!read_word(key, node, mistakes)) return;
  into.colour = node.text;
  into.forward_uv = forward_uv_of(node.text);
}

// Of an rgb for all three; `resistors`, read later, may change them.
void read_resistor(const KeyText& key, const Node& node, O& into, Mistakes& mistakes) {
  const auto mohm = read_quantity(key, node, Unit::kResistance, mistakes);
  if (!mohm) return;
  if (into.kind == OutputKind::kRgb)
    into.rgb.resistor_mohm.fill(*mohm);
  else
    into.resistor_mohm = *mohm;
}

// An rgb's stand at `resistors`.
std::string write_resistor(const O& from) {
  if (from.kind == OutputKind::kRgb) return "";
  return write_quoted_quantity(from.resistor_mohm, Unit::kResistance);
}

// What stands before the keys of the kinds.
std::vector<KeyOf<O>> head_rows() {
  using S = Section;
  // clang-format off
  return {
      {{.section = S::kOutput, .name = "name", .type = kNameType,
        .fallback = "none: every output has one", .meaning = "What the output is called, in lines "
        "and everywhere.", .example = "\"door_lamp\""},
       read_name<O>, [](const O& from) { return quoted(from.name); }},
      {{.section = S::kOutput, .name = "kind", .type = "a kind of output",
        .fallback = "none: every output has one", .meaning = all_meanings(),
        .example = "\"lamp\"", .shape = ValueShape::kWord, .words = all_words()},
       read_kind, [](const O& from) { return quoted(kind_word(from.kind)); }},
      {{.section = S::kOutput, .name = "pin", .type = kPinType,
        .fallback = "given out: pins that can dim to lamps first", .meaning = "The pin of the "
        "board that it is wired to.", .example = "\"D9\"", .shape = ValueShape::kPin},
       read_pin<O>, write_pin<O>},
      {{.section = S::kOutput, .name = "pins", .type = kPinsType,
        .fallback = "given out: pins that can dim to rgb lamps first", .meaning = "The pins of the "
        "board that it is wired to: of an rgb lamp red, green and blue, of digits the data and "
        "clock of their driver.", .example = "[\"D3\", \"D5\", \"D6\"]",
        .shape = ValueShape::kPins},
       read_pins<O>, write_pins<O>},
      {{.section = S::kOutput, .name = "colour", .type = "a colour", .fallback = "\"red\"",
        .meaning = "Colour of the LED, or of the digits.", .example = "\"red\"",
        .shape = ValueShape::kWord, .words = kColourWords},
       read_colour, [](const O& from) { return quoted(from.colour); }},
      {{.section = S::kOutput, .name = "resistor", .type = unit_example(Unit::kResistance),
        .fallback = "\"220 ohm\"", .meaning = "The resistor in series with the LED; of an rgb "
        "lamp, one for each of its three.", .example = "\"220 ohm\"",
        .shape = ValueShape::kQuantity, .least = 1, .most = 10'000'000'000,
        .unit = Unit::kResistance},
       read_resistor, write_resistor},
      word_row<kWiredWords, &O::active_low>({.section = S::kOutput, .name = "wired",
          .fallback = "\"to ground\"", .meaning = "Where the lamp's other end goes: to ground, and "
          "the pin feeds it, or to the supply, and the pin drains it.",
          .example = "\"to supply\""}),
  };
  // clang-format on
}

// And what stands behind them.
std::vector<KeyOf<O>> tail_rows() {
  using S = Section;
  // clang-format off
  return {
      integer_row<&O::sends, &Sends::decimals>({.section = S::kOutput, .name = "decimals",
          .fallback = "0", .meaning = "Digits after the point of what it takes.", .example = "2",
          .most = protocol::kDecimalsMax}),
      {{.section = S::kOutput, .name = "takes",
        .type = "two numbers for dark and full, or words from dark to full, such as [0, 255]",
        .fallback = "[0, 255] of lamps; [0, 180] of a gauge; [0, 1] of a buzzer, [0, 5000] of a "
        "pitched one; [0, 9999] of four digits", .meaning = "The numbers for dark and full, or a "
        "word for each step from dark to full; of a gauge the ends of its scale, of a buzzer off "
        "and on, or silence and the highest pitch, of digits what they show.",
        .example = "[\"OFF\", \"ON\"]", .shape = ValueShape::kNumbersOrTexts},
       read_takes, [](const O& from) { return write_sends(from.sends); }},
      {{.section = S::kOutput, .name = "at_mm", .type = kAtType, .fallback = "laid out",
        .meaning = "Where it sits on the face: its middle, from the left and from the top.",
        .example = "[95, 30]", .shape = ValueShape::kPlace},
       read_at<O>, write_at<O>},
  };
  // clang-format on
}

// Adds the kinds that say in `has` that they have these keys too; without any, all have them.
std::vector<KeyOf<O>> for_kinds(std::vector<KeyOf<O>> rows) {
  for (KeyOf<O>& row : rows)
    for (const OutputKindRow& kind : kind_list())
      if (names_key(kind.has, row.text.name)) row.text.kinds |= kind_bit(kind.kind);
  return rows;
}

std::vector<KeyOf<O>> output_rows() {
  std::vector<KeyOf<O>> rows = for_kinds(head_rows());
  for (const OutputKindRow& kind : kind_list()) {
    if (kind.rows == nullptr) continue;
    for (KeyOf<O> row : kind.rows()) {
      row.text.kinds = kind_bit(kind.kind);
      rows.push_back(row);
    }
  }
  for (const KeyOf<O>& row : tail_rows()) rows.push_back(row);
  return rows;
}

}  // namespace

std::span<const OutputKindRow> output_kinds() {
  return kind_list();
}

const OutputKindRow& output_kind(OutputKind kind) {
  return row_of_kind(kind_list(), kind);
}

std::span<const KeyOf<O>> keys_of_output() {
  static const std::vector<KeyOf<O>> rows = output_rows();
  return rows;
}

}  // namespace understudy
