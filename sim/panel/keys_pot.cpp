// Rows of the key table: pots, and what a track is made of in any control.
#include <algorithm>
#include <array>

#include "sim/panel/control_kinds.h"
#include "sim/panel/readers.h"

namespace understudy {
namespace {

using C = ControlDescription;
constexpr auto kPot = &C::pot;
constexpr std::int64_t kLoadMohmMin = 100'000;
constexpr std::string_view kTaperWords = "linear|log|antilog";

// "slide 60 mm", "rotary 280 deg", or the word alone for the usual length.
void read_travel(const KeyText& key, const Node& node, C& into, Mistakes& mistakes) {
  const auto text = read_text(key, node, mistakes);
  if (!text) return;
  const std::size_t space = std::min(text->find(' '), text->size());
  const std::string word = text->substr(0, space);
  std::string length = text->substr(std::min(space + 1, text->size()));
  PotPart& pot = into.pot;
  if (word == "slide") {
    const auto um = length.empty() ? std::optional<std::int64_t>(60'000)
                                   : parse_quantity(length, Unit::kLength);
    if (um && *um >= 1'000 && *um <= 1'000'000) {
      pot.shape = TravelShape::kSlide;
      pot.travel = *um;
      return;
    }
  }
  if (word == "rotary") {
    const auto thousandths =
        length.empty() ? std::optional<std::int64_t>(280'000) : parse_degrees(length);
    if (thousandths && *thousandths >= 10'000 && *thousandths <= 36'000'000) {
      pot.shape = TravelShape::kRotary;
      pot.travel = *thousandths;
      return;
    }
  }
  add_wrong(key, node, mistakes);
}

std::string write_travel(const C& from) {
  if (from.pot.shape == TravelShape::kRotary)
    return quoted("rotary " + write_degrees(from.pot.travel));
  return quoted("slide " + write_millimetres(from.pot.travel) + " mm");
}

void read_ends(const KeyText& key, const Node& node, C& into, Mistakes& mistakes) {
  if (node.kind != NodeKind::kList || node.items.size() != 2) return add_wrong(key, node, mistakes);
  const auto low = read_quantity(key, node.items[0], Unit::kShare, mistakes);
  const auto high = read_quantity(key, node.items[1], Unit::kShare, mistakes);
  if (!low || !high) return;
  into.pot.end_low_ppm = *low;
  into.pot.end_high_ppm = *high;
}

std::string write_ends(const C& from) {
  return "[" + write_quoted_quantity(from.pot.end_low_ppm, Unit::kShare) + ", " +
         write_quoted_quantity(from.pot.end_high_ppm, Unit::kShare) + "]";
}

// Less would short the track out rather than load it.
void read_load(const KeyText& key, const Node& node, C& into, Mistakes& mistakes) {
  const auto mohm = read_quantity(key, node, Unit::kResistance, mistakes);
  if (!mohm) return;
  if (*mohm != 0 && *mohm < kLoadMohmMin) {
    mistakes.add({node.place, key.path(), shown(node), "at least 100 ohm, or 0 ohm for no load",
                  "with less the pot would be a short circuit near its high end"});
    return;
  }
  into.pot.load_mohm = *mohm;
}

// lint: table
std::span<const KeyOf<C>> pot_rows() {
  using S = Section;
  // clang-format off
  static const auto rows = std::to_array<KeyOf<C>>({
      {{.section = S::kControl, .name = "travel",
        .type = "a way such as \"slide 60 mm\" or \"rotary 280 deg\"",
        .fallback = "\"rotary 280 deg\"", .meaning = "How a pot moves, and how far.",
        .example = "\"slide 60 mm\""},
       read_travel, write_travel},
      word_row<kTaperWords, kPot, &PotPart::taper>({.section = S::kControl, .name = "taper",
          .fallback = "\"linear\"", .meaning = "How a pot's track follows its travel.",
          .example = "\"log\""}),
      quantity_row<Unit::kShare, kPot, &PotPart::middle_ppm>({.section = S::kControl,
          .name = "middle", .fallback = "\"50%\"; \"10%\" for log, \"90%\" for antilog",
          .meaning = "What share of its track a pot gives at half travel.", .example = "\"15 %\"",
          .least = 1'000, .most = 999'000}),
      quantity_row<Unit::kResistance, kPot, &PotPart::resistance_mohm>({.section = S::kControl,
          .name = "resistance", .fallback = "\"10 kohm\"", .meaning = "A pot's whole track.",
          .example = "\"10 kohm\"", .least = 100'000, .most = 10'000'000'000}),
      {{.section = S::kControl, .name = "ends", .type = "two shares such as [\"2 %\", \"1 %\"]",
        .fallback = "[\"0%\", \"0%\"]", .meaning = "Shares of the track that a pot never reaches, "
        "low end and high end.", .example = "[\"2 %\", \"1 %\"]",
        .shape = ValueShape::kTwoQuantities, .most = 450'000, .unit = Unit::kShare},
       read_ends, write_ends},
      {{.section = S::kControl, .name = "load", .type = unit_example(Unit::kResistance),
        .fallback = "\"0 ohm\": nothing loads it", .meaning = "What lies from the wiper to ground "
        "and bends its track, such as a resistor or a meter, at least 100 ohm; 0 for nothing.",
        .example = "\"100 kohm\"", .shape = ValueShape::kQuantity, .most = 1'000'000'000'000,
        .unit = Unit::kResistance},
       read_load, [](const C& from) {
         return write_quoted_quantity(from.pot.load_mohm, Unit::kResistance);
       }},
      quantity_row<Unit::kVoltage, kPot, &PotPart::noise_uv>({.section = S::kControl,
          .name = "noise", .fallback = "half a step of the converter: \"2.441 mV\" at 5 V and 10 "
          "bits", .meaning = "Noise at an analogue pin, root mean square.",
          .example = "\"2.5 mV\"", .most = 1'000'000}),
      quantity_row<Unit::kResistance, kPot, &PotPart::source_mohm>({.section = S::kControl,
          .name = "source", .fallback = "a quarter of resistance; \"1 kohm\" of a sensor",
          .meaning = "What the converter sees of a pot at mid track, or of a sensor; above 10 kohm "
          "it reads a ghost of its neighbour.", .example = "\"2.5 kohm\"",
          .most = 100'000'000'000}),
  });
  // clang-format on
  return rows;
}

void read_rest(const KeyText& key, const Node& node, C& into, Mistakes& mistakes) {
  KeyText right = key;
  right.type = "a share of the travel such as \"50 %\"";
  if (const auto ppm = read_quantity(right, node, Unit::kShare, mistakes)) into.rest_ppm = *ppm;
}

std::string write_rest(const C& from) {
  return write_quoted_quantity(from.rest_ppm, Unit::kShare);
}

// A slide is its travel and what holds it, upright; a rotary one is its knob.
Footprint size_of(const C& control) {
  if (control.pot.shape == TravelShape::kRotary) return {.width_um = 25'000, .height_um = 25'000};
  return {.width_um = 15'000, .height_um = control.pot.travel + 15'000};
}

}  // namespace

ControlKindRow pot_kind() {
  return {.kind = ControlKind::kPot,
          .one = "a pot",
          .many = "pots",
          .meaning = "turned or slid",
          .example =
              "[[control]]\nname = \"power\"\nkind = \"pot\"\ntravel = \"slide 60 mm\"\n"
              "sends = [0, 1023]\nkeys = { more = \"W\", less = \"S\" }\n",
          .has = "pin|rest|keys|keys.more|keys.less|gamepad",
          .sends = {.type = "two numbers for the ends, such as [0, 1023]"},
          .size = size_of,
          .rows = pot_rows,
          .pin_text = [](const C&, std::size_t) -> std::string { return "pot"; },
          .complete = send_analogue_reading,
          .read_rest = read_rest,
          .write_rest = write_rest};
}

}  // namespace understudy
