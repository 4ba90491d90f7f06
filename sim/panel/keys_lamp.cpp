// Rows of the key table: lamps, an LED with a resistor.
#include <array>

#include "sim/panel/output_kinds.h"
#include "sim/panel/readers.h"

namespace understudy {
namespace {

using O = OutputDescription;

std::span<const KeyOf<O>> lamp_rows() {
  using S = Section;
  // clang-format off
  static const auto rows = std::to_array<KeyOf<O>>({
      quantity_row<Unit::kVoltage, &O::forward_uv>({.section = S::kOutput, .name = "forward",
          .fallback = "by colour: \"2 V\" red and orange, \"2.1 V\" amber, yellow and green, "
          "\"3.2 V\" blue and white", .meaning = "Voltage across the lit LED.",
          .example = "\"2 V\"", .least = 1, .most = 10'000'000}),
  });
  // clang-format on
  return rows;
}

}  // namespace

OutputKindRow lamp_kind() {
  return {.kind = OutputKind::kLamp,
          .one = "a lamp",
          .many = "lamps",
          .meaning = "an LED with a resistor",
          .example =
              "[[output]]\nname = \"door_lamp\"\nkind = \"lamp\"\ncolour = \"amber\"\n"
              "resistor = \"220 ohm\"\n",
          .has = "pin|colour|resistor|wired",
          .takes = {.type = "two numbers for dark and full, or words from dark to full, such as "
                            "[0, 255]"},
          .pins_are = "",
          .rows = lamp_rows};
}

}  // namespace understudy
