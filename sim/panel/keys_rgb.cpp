// Rows of the key table: rgb lamps, three LEDs in one case.
#include <array>

#include "sim/panel/output_kinds.h"
#include "sim/panel/readers.h"

namespace understudy {
namespace {

using O = OutputDescription;
using Three = std::array<std::int64_t, 3>;

// Three quantities for red, green and blue, in the limits of the row.
void read_three(const KeyText& key, const Node& node, Three& into, Mistakes& mistakes) {
  if (node.kind != NodeKind::kList || node.items.size() != into.size())
    return add_wrong(key, node, mistakes);
  KeyText one = key;
  one.type = unit_example(*key.unit);
  Three values = {};
  for (std::size_t i = 0; i < values.size(); ++i) {
    const auto value = read_quantity(one, node.items[i], *key.unit, mistakes);
    if (!value) return;
    values[i] = *value;
  }
  into = values;
}

std::string write_three(const Three& from, Unit unit) {
  return "[" + write_quoted_quantity(from[0], unit) + ", " + write_quoted_quantity(from[1], unit) +
         ", " + write_quoted_quantity(from[2], unit) + "]";
}

std::span<const KeyOf<O>> rgb_rows() {
  using S = Section;
  // clang-format off
  static const auto rows = std::to_array<KeyOf<O>>({
      {{.section = S::kOutput, .name = "resistors",
        .type = "a list of three resistances, red, green and blue",
        .fallback = "resistor, for each of them", .meaning = "The resistors in series with the "
        "three LEDs, where they differ.", .example = "[\"220 ohm\", \"100 ohm\", \"100 ohm\"]",
        .shape = ValueShape::kTexts, .least = 1, .most = 10'000'000'000,
        .unit = Unit::kResistance},
       [](const KeyText& key, const Node& node, O& into, Mistakes& mistakes) {
         read_three(key, node, into.rgb.resistor_mohm, mistakes);
       },
       [](const O& from) { return write_three(from.rgb.resistor_mohm, Unit::kResistance); }},
      {{.section = S::kOutput, .name = "forwards",
        .type = "a list of three voltages, red, green and blue",
        .fallback = "[\"2 V\", \"3.2 V\", \"3.2 V\"]",
        .meaning = "Voltages across the three LEDs when lit.",
        .example = "[\"2 V\", \"3.2 V\", \"3.2 V\"]", .shape = ValueShape::kTexts, .least = 1,
        .most = 10'000'000, .unit = Unit::kVoltage},
       [](const KeyText& key, const Node& node, O& into, Mistakes& mistakes) {
         read_three(key, node, into.rgb.forward_uv, mistakes);
       },
       [](const O& from) { return write_three(from.rgb.forward_uv, Unit::kVoltage); }},
  });
  // clang-format on
  return rows;
}

}  // namespace

OutputKindRow rgb_kind() {
  return {.kind = OutputKind::kRgb,
          .one = "an rgb lamp",
          .many = "rgb lamps",
          .meaning = "three LEDs in one case, red, green and blue",
          .example =
              "[[output]]\nname = \"dome\"\nkind = \"rgb\"\npins = [\"D3\", \"D5\", \"D6\"]"
              "\nresistors = [\"220 ohm\", \"100 ohm\", \"100 ohm\"]\n",
          .has = "pins|resistor|wired",
          .takes = {.type = "two numbers for dark and full, or words from dark to full, such as "
                            "[0, 255]; for each of r, g and b"},
          .pins_are = "red, green and blue",
          .rows = rgb_rows};
}

}  // namespace understudy
