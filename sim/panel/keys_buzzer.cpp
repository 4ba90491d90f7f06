// Rows of the key table: buzzers, with an oscillator of their own or at the pitch that they are
// given.
#include <array>

#include "sim/panel/output_kinds.h"
#include "sim/panel/readers.h"

namespace understudy {
namespace {

using O = OutputDescription;
constexpr auto kBuzzer = &O::buzzer;
constexpr std::string_view kSoundsWords = "by itself|at the pitch given";
constexpr std::string_view kDrivenWords = "by the pin|by a transistor";
constexpr std::int64_t kPitchHzMax = 5'000;  // what `takes` ends at where it is left out
constexpr std::int64_t kTenAmperes = 10'000'000;

// A pitched one takes hertz where nothing else is said; `takes` is read later.
void read_sounds(const KeyText& key, const Node& node, O& into, Mistakes& mistakes) {
  const auto index = read_word(key, node, mistakes);
  if (!index) return;
  into.buzzer.pitched = *index == 1;
  if (into.buzzer.pitched) into.sends.high = kPitchHzMax;
}

std::string write_sounds(const O& from) {
  return quoted(word_at(kSoundsWords, from.buzzer.pitched ? 1 : 0));
}

void read_resonance(const KeyText& key, const Node& node, O& into, Mistakes& mistakes) {
  if (const auto millihertz = read_quantity(key, node, Unit::kFrequency, mistakes))
    into.buzzer.resonance_hz = (*millihertz + 500) / 1'000;
}

std::string write_resonance(const O& from) {
  return write_quoted_quantity(from.buzzer.resonance_hz * 1'000, Unit::kFrequency);
}

std::span<const KeyOf<O>> buzzer_rows() {
  using S = Section;
  // clang-format off
  static const auto rows = std::to_array<KeyOf<O>>({
      {{.section = S::kOutput, .name = "sounds", .type = "one of its words",
        .fallback = "\"by itself\"", .meaning = "Whether a buzzer has an oscillator of its own and "
        "is on or off, or sounds at the pitch that it is given, in hertz; 0 is silent.",
        .example = "\"at the pitch given\"", .shape = ValueShape::kWord, .words = kSoundsWords},
       read_sounds, write_sounds},
      {{.section = S::kOutput, .name = "resonance", .type = unit_example(Unit::kFrequency),
        .fallback = "\"2.7 kHz\"", .meaning = "Where it is loudest; one with an oscillator of its "
        "own sounds there.", .example = "\"2.7 kHz\"", .shape = ValueShape::kQuantity,
        .least = 20'000, .most = 20'000'000, .unit = Unit::kFrequency},
       read_resonance, write_resonance},
      quantity_row<Unit::kCurrent, kBuzzer, &BuzzerPart::sounding_ua>({.section = S::kOutput,
          .name = "current", .fallback = "\"30 mA\"", .meaning = "What it draws while it sounds.",
          .example = "\"30 mA\"", .most = kTenAmperes}),
      word_row<kDrivenWords, kBuzzer, &BuzzerPart::transistor>({.section = S::kOutput,
          .name = "driven", .fallback = "\"by the pin\"", .meaning = "What carries its current: "
          "the pin, or a transistor that the pin switches.", .example = "\"by a transistor\""}),
  });
  // clang-format on
  return rows;
}

}  // namespace

OutputKindRow buzzer_kind() {
  return {.kind = OutputKind::kBuzzer,
          .one = "a buzzer",
          .many = "buzzers",
          .meaning = "a disc that sounds",
          .example =
              "[[output]]\nname = \"horn\"\nkind = \"buzzer\"\n"
              "sounds = \"at the pitch given\"\ndriven = \"by a transistor\"\n",
          .has = "pin",
          .takes = {.type = "two numbers or words for off and on, such as [0, 1]; of a pitched one "
                            "two numbers of hertz",
                    .low = 0,
                    .high = 1,
                    .words_min = 2,
                    .words_max = 2},
          .pins_are = "",
          .rows = buzzer_rows};
}

}  // namespace understudy
