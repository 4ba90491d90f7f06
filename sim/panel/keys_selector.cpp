// Rows of the key table: selectors, rotary switches with a pin for each of their places.
#include <algorithm>
#include <array>
#include <charconv>

#include "sim/panel/control_kinds.h"
#include "sim/panel/readers.h"

namespace understudy {
namespace {

using C = ControlDescription;
constexpr auto kSelector = &C::selector;
constexpr int kPlacesMax = 24;
constexpr int kPlacesUsual = 3;
constexpr std::int64_t kFullTravelPpm = 1'000'000;
constexpr std::string_view kTimingWords = "break-before-make|make-before-break";
constexpr std::string_view kGapWords = "reports the first place|keeps the last place";

// Places as given, else as many as there are words, pins or the usual number.
int places_of(const C& control) {
  if (control.selector.places > 0) return control.selector.places;
  if (!control.sends.words.empty()) return static_cast<int>(control.sends.words.size());
  const auto pins = static_cast<int>(control.pins.size());
  return pins >= 2 && pins <= kPlacesMax ? pins : kPlacesUsual;
}

// lint: table
std::span<const KeyOf<C>> selector_rows() {
  using S = Section;
  // clang-format off
  static const auto rows = std::to_array<KeyOf<C>>({
      integer_row<kSelector, &SelectorPart::places>({.section = S::kControl, .name = "places",
          .fallback = "as many as sends has words, or as there are pins; else 3",
          .meaning = "How many places a selector has.", .example = "5", .least = 2,
          .most = kPlacesMax}),
      word_row<kTimingWords, kSelector, &SelectorPart::makes_first>({.section = S::kControl,
          .name = "timing", .fallback = "\"break-before-make\"", .meaning = "Between two places a "
          "selector opens one contact before it closes the next, or closes the next first.",
          .example = "\"make-before-break\""}),
      word_row<kGapWords, kSelector, &SelectorPart::keeps_in_gap>({.section = S::kControl,
          .name = "in_gap", .fallback = "\"keeps the last place\"", .meaning = "What the board's "
          "program says while no contact is closed.", .example = "\"reports the first place\""}),
  });
  // clang-format on
  return rows;
}

// A place by its word, or by its number counted from 1.
void read_rest(const KeyText& key, const Node& node, C& into, Mistakes& mistakes) {
  const int places = places_of(into);
  const std::vector<std::string>& words = into.sends.words;
  int place = -1;
  if (node.kind == NodeKind::kInteger && node.integer >= 1 && node.integer <= places)
    place = static_cast<int>(node.integer - 1);
  if (node.kind == NodeKind::kText) {
    const auto at = std::find(words.begin(), words.end(), node.text);
    if (at != words.end()) place = static_cast<int>(at - words.begin());
  }
  if (place < 0 || place >= places) {
    KeyText right = key;
    const std::string type = "a place from 1 to " + std::to_string(places) +
                             (words.empty() ? "" : ", or one of the words of sends");
    right.type = type;
    return add_wrong(right, node, mistakes);
  }
  into.rest_ppm = kFullTravelPpm * place / (places - 1);
}

std::string write_rest(const C& from) {
  const std::int64_t steps = from.selector.places - 1;
  return std::to_string((from.rest_ppm * steps + kFullTravelPpm / 2) / kFullTravelPpm + 1);
}

void finish(const Node& table, C& into, Mistakes& mistakes) {
  const std::size_t words = into.sends.words.size();
  into.selector.places = places_of(into);
  if (words > 0 && words != static_cast<std::size_t>(into.selector.places)) {
    add_at(table, "places", std::to_string(into.selector.places),
           std::to_string(words) + ", as many as sends has words", "", mistakes);
  }
}

void complete(C& control, const BoardDescription&) {
  if (control.sends.given) return;
  control.sends = {};
  control.sends.high = control.selector.places - 1;
  control.sends.given = true;
}

}  // namespace

ControlKindRow selector_kind() {
  return {.kind = ControlKind::kSelector,
          .one = "a selector",
          .many = "selectors",
          .meaning = "a rotary switch of several places",
          .example =
              "[[control]]\nname = \"lights\"\nkind = \"selector\"\n"
              "sends = [\"OFF\", \"DIM\", \"FULL\"]\npins = [\"D2\", \"D4\", \"D7\"]\n"
              "timing = \"break-before-make\"\nkeys = { more = \"L\", less = \"K\" }\n",
          .has = "pins|wired|bounce|contact|rest|keys|keys.more|keys.less|gamepad",
          .sends = {.type = "a word for each place, or two numbers for the first and the last, "
                            "such as [0, 4]",
                    .words_min = 2,
                    .words_max = kPlacesMax,
                    .reads_pin = false},
          .size = [](const C&) -> Footprint { return {.width_um = 32'000, .height_um = 32'000}; },
          .pins_are = "one for each place",
          .rows = selector_rows,
          .pin_text =
              [](const C& control, std::size_t n) {
                return with_wiring("selector, place " + std::to_string(n + 1), control);
              },
          .begin = [](C& into) { into.selector.places = 0; },
          .finish = finish,
          .complete = complete,
          .read_rest = read_rest,
          .write_rest = write_rest};
}

}  // namespace understudy
