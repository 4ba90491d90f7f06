// Rows of the key table: rows of seven-segment digits.
#include <array>

#include "sim/panel/output_kinds.h"
#include "sim/panel/readers.h"

namespace understudy {
namespace {

using O = OutputDescription;
constexpr auto kDigits = &O::digits;

// As many nines as there are digits, where nothing else is said; `takes` is read later.
void read_count(const KeyText& key, const Node& node, O& into, Mistakes& mistakes) {
  const auto count = read_integer(key, node, mistakes);
  if (!count) return;
  into.digits.count = static_cast<int>(*count);
  std::int64_t beyond = 1;
  for (int i = 0; i < into.digits.count; ++i) beyond *= 10;
  into.sends.high = beyond - 1;
}

std::span<const KeyOf<O>> digits_rows() {
  using S = Section;
  // clang-format off
  static const auto rows = std::to_array<KeyOf<O>>({
      {{.section = S::kOutput, .name = "digits", .type = "a whole number", .fallback = "4",
        .meaning = "How many seven-segment digits stand in the row.", .example = "4",
        .shape = ValueShape::kInteger, .least = 1, .most = kDigitsMax},
       read_count, [](const O& from) { return std::to_string(from.digits.count); }},
      quantity_row<Unit::kCurrent, kDigits, &DigitsPart::segment_ua>({.section = S::kOutput,
          .name = "segment", .fallback = "\"5 mA\"", .meaning = "What one lit segment draws from "
          "the supply, on average, for its driver shows one digit after the other.",
          .example = "\"5 mA\"", .most = 100'000}),
  });
  // clang-format on
  return rows;
}

}  // namespace

OutputKindRow digits_kind() {
  return {.kind = OutputKind::kDigits,
          .one = "a row of digits",
          .many = "rows of digits",
          .meaning = "seven-segment digits behind a driver with two wires",
          .example =
              "[[output]]\nname = \"clock\"\nkind = \"digits\"\ndigits = 4\n"
              "decimals = 2\ntakes = [0.00, 23.59]\n",
          .has = "pins|colour",
          .takes = {.type = "two numbers, or words that are shown as far as segments can, such as "
                            "[0, 9999]",
                    .low = 0,
                    .high = 9'999},
          .pins_are = "the driver's data and clock",
          .rows = digits_rows};
}

}  // namespace understudy
