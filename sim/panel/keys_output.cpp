// Rows of the key table: outputs.
#include <array>

#include "protocol/field.h"
#include "sim/panel/presets.h"
#include "sim/panel/readers.h"
#include "sim/panel/sends.h"
#include "sim/panel/shared_readers.h"

namespace understudy {
namespace {

using O = OutputDescription;

constexpr std::string_view kKindWords = "lamp";
constexpr std::string_view kWiredWords = "to ground|to supply";
constexpr std::array<std::string_view, 4> kKindsToCome = {"rgb", "gauge", "buzzer", "digits"};

void read_kind(const KeyText& key, const Node& node, O& into, Mistakes& mistakes) {
  read_kind_word(key, node, kKindsToCome, mistakes, [&](int) { into.kind = OutputKind::kLamp; });
}

void read_takes(const KeyText& key, const Node& node, O& into, Mistakes& mistakes) {
  read_sends(key, node, {.words_min = 2, .words_max = 256}, into.sends, mistakes);
}

// The colour brings its forward voltage, which its own key may change.
void read_colour(const KeyText& key, const Node& node, O& into, Mistakes& mistakes) {
  if (!read_word(key, node, mistakes)) return;
  into.colour = node.text;
  into.forward_uv = forward_uv_of(node.text);
}

}  // namespace

// lint: table
std::span<const KeyOf<O>> keys_of_output() {
  using S = Section;
  // clang-format off
  static const auto rows = std::to_array<KeyOf<O>>({
      {{.section = S::kOutput, .name = "name", .type = kNameType,
        .fallback = "none: every output has one", .meaning = "What the output is called, in lines "
        "and everywhere.", .example = "\"door_lamp\""},
       read_name<O>, [](const O& from) { return quoted(from.name); }},
      {{.section = S::kOutput, .name = "kind", .type = "a kind of output",
        .fallback = "none: every output has one", .meaning = "lamp: an LED with a resistor.",
        .example = "\"lamp\"", .shape = ValueShape::kWord, .words = kKindWords},
       read_kind, [](const O&) -> std::string { return "\"lamp\""; }},
      {{.section = S::kOutput, .name = "pin", .type = kPinType,
        .fallback = "given out: pins that can dim first", .meaning = "The pin of the board that it "
        "is wired to.", .example = "\"D9\"", .shape = ValueShape::kPin},
       read_pin<O>, write_pin<O>},
      integer_row<&O::sends, &Sends::decimals>({.section = S::kOutput, .name = "decimals",
          .fallback = "0", .meaning = "Digits after the point of what it takes.", .example = "2",
          .most = protocol::kDecimalsMax}),
      {{.section = S::kOutput, .name = "takes",
        .type = "two numbers for dark and full, or words from dark to full, such as [0, 255]",
        .fallback = "[0, 255]", .meaning = "The numbers for dark and full, or a word for each step "
        "from dark to full.", .example = "[\"OFF\", \"ON\"]",
        .shape = ValueShape::kNumbersOrTexts},
       read_takes, [](const O& from) { return write_sends(from.sends); }},
      {{.section = S::kOutput, .name = "colour", .type = "a colour", .fallback = "\"red\"",
        .meaning = "Colour of the LED.", .example = "\"red\"", .shape = ValueShape::kWord,
        .words = kColourWords},
       read_colour, [](const O& from) { return quoted(from.colour); }},
      quantity_row<Unit::kVoltage, &O::forward_uv>({.section = S::kOutput, .name = "forward",
          .fallback = "by colour: \"2 V\" red and orange, \"2.1 V\" amber, yellow and green, "
          "\"3.2 V\" blue and white", .meaning = "Voltage across the lit LED.",
          .example = "\"2 V\"", .least = 1, .most = 10'000'000}),
      quantity_row<Unit::kResistance, &O::resistor_mohm>({.section = S::kOutput,
          .name = "resistor", .fallback = "\"220 ohm\"", .meaning = "The resistor in series with "
          "the LED.", .example = "\"220 ohm\"", .least = 1, .most = 10'000'000'000}),
      word_row<kWiredWords, &O::active_low>({.section = S::kOutput, .name = "wired",
          .fallback = "\"to ground\"", .meaning = "Where the lamp's other end goes: to ground, and "
          "the pin feeds it, or to the supply, and the pin drains it.",
          .example = "\"to supply\""}),
      {{.section = S::kOutput, .name = "at_mm", .type = kAtType, .fallback = "laid out",
        .meaning = "Where it sits on the face: its middle, from the left and from the top.",
        .example = "[95, 30]", .shape = ValueShape::kPlace},
       read_at<O>, write_at<O>},
  });
  // clang-format on
  return rows;
}

}  // namespace understudy
