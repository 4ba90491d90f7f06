// Rows of the key table: gauges, a needle on a small servo.
#include <array>

#include "sim/panel/output_kinds.h"
#include "sim/panel/readers.h"

namespace understudy {
namespace {

using O = OutputDescription;
constexpr auto kGauge = &O::gauge;
constexpr std::int64_t kSixtyDegreesMdeg = 60'000;
constexpr std::int64_t kNsPerSecond = 1'000'000'000;
constexpr std::int64_t kTenAmperes = 10'000'000;

// "180 deg" in thousandths of a degree. A degree is read like a millimetre: both are kept in
// thousandths.
void read_sweep(const KeyText& key, const Node& node, O& into, Mistakes& mistakes) {
  auto text = read_text(key, node, mistakes);
  if (!text) return;
  std::optional<std::int64_t> mdeg;
  if (text->ends_with("deg"))
    mdeg = parse_quantity(text->substr(0, text->size() - 3) + "mm", Unit::kLength);
  if (!mdeg || *mdeg < 1'000 || *mdeg > 360'000)
    return add_wrong(key, node, mistakes, "from 1 to 360 deg");
  into.gauge.sweep_mdeg = *mdeg;
}

std::string write_sweep(const O& from) {
  return quoted(write_millimetres(from.gauge.sweep_mdeg) + " deg");
}

// From the time for 60 degrees to thousandths of a degree a second and back, to the nearest.
std::int64_t turned_over(std::int64_t value) {
  return (kSixtyDegreesMdeg * kNsPerSecond + value / 2) / value;
}

void read_slew(const KeyText& key, const Node& node, O& into, Mistakes& mistakes) {
  if (const auto ns = read_quantity(key, node, Unit::kTime, mistakes))
    into.gauge.slew_mdeg_per_s = turned_over(*ns);
}

// The roundest time that is read back to the same slew.
std::string write_slew(const O& from) {
  const std::int64_t slew = from.gauge.slew_mdeg_per_s;
  const std::int64_t exact = turned_over(slew);
  for (std::int64_t round = 10'000'000; round > 1; round /= 10) {
    const std::int64_t ns = (exact + round / 2) / round * round;
    if (ns > 0 && turned_over(ns) == slew) return write_quoted_quantity(ns, Unit::kTime);
  }
  return write_quoted_quantity(exact, Unit::kTime);
}

std::span<const KeyOf<O>> gauge_rows() {
  using S = Section;
  // clang-format off
  static const auto rows = std::to_array<KeyOf<O>>({
      {{.section = S::kOutput, .name = "sweep", .type = "an angle such as \"180 deg\"",
        .fallback = "\"180 deg\"", .meaning = "How far a gauge's needle turns from the least to "
        "the most.", .example = "\"120 deg\""},
       read_sweep, write_sweep},
      {{.section = S::kOutput, .name = "slew", .type = unit_example(Unit::kTime),
        .fallback = "\"120 ms\"", .meaning = "The time in which its servo turns by 60 degrees, as "
        "servo data sheets give it.", .example = "\"0.12 s\"", .shape = ValueShape::kQuantity,
        .least = 10'000'000, .most = 10 * kNsPerSecond, .unit = Unit::kTime},
       read_slew, write_slew},
      quantity_row<Unit::kShare, kGauge, &GaugePart::overshoot_ppm>({.section = S::kOutput,
          .name = "overshoot", .fallback = "\"5 %\"", .meaning = "How far the needle swings beyond "
          "its goal before it comes to rest, as a share of the way it came.",
          .example = "\"5 %\"", .most = 500'000}),
      quantity_row<Unit::kCurrent, kGauge, &GaugePart::idle_ua>({.section = S::kOutput,
          .name = "idle", .fallback = "\"8 mA\"", .meaning = "What its servo draws at rest, from "
          "the supply.", .example = "\"8 mA\"", .most = kTenAmperes}),
      quantity_row<Unit::kCurrent, kGauge, &GaugePart::moving_ua>({.section = S::kOutput,
          .name = "moving", .fallback = "\"150 mA\"", .meaning = "What its servo draws while it "
          "turns, from the supply; held fast it may draw four times as much.",
          .example = "\"150 mA\"", .most = kTenAmperes}),
  });
  // clang-format on
  return rows;
}

}  // namespace

OutputKindRow gauge_kind() {
  return {.kind = OutputKind::kGauge,
          .one = "a gauge",
          .many = "gauges",
          .meaning = "a needle on a small servo",
          .example =
              "[[output]]\nname = \"speed\"\nkind = \"gauge\"\nsweep = \"120 deg\"\n"
              "takes = [0, 80]\n",
          .has = "pin",
          .takes = {.type = "two numbers for the ends of the scale, or words from its least to "
                            "its most, such as [0, 180]",
                    .low = 0,
                    .high = 180},
          .pins_are = "",
          .rows = gauge_rows};
}

}  // namespace understudy
