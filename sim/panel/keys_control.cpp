// Rows of the key table: controls, their contacts' bounce and their keys.
#include <algorithm>
#include <array>

#include "protocol/field.h"
#include "sim/base/text.h"
#include "sim/panel/readers.h"
#include "sim/panel/sends.h"
#include "sim/panel/shared_readers.h"

namespace understudy {
namespace {

using C = ControlDescription;
constexpr auto kPot = &C::pot;
constexpr auto kContact = &C::contact;
constexpr std::uint8_t kForContacts = kForButton | kForSwitch;

constexpr std::string_view kTaperWords = "linear|log|antilog";
constexpr std::string_view kWiredWords = "pull-up|pull-down";
constexpr std::string_view kKindWords = "pot|button|switch";
constexpr std::string_view kKeyNames =
    "space|enter|tab|up|down|left|right|"
    "F1|F2|F3|F4|F5|F6|F7|F8|F9|F10|F11|F12";
constexpr std::string_view kWhatThePinReads = "what the pin reads";
// Kinds of the trade that are not simulated: named, so that nobody looks for a typing mistake.
constexpr std::array<std::string_view, 4> kKindsToCome = {"stick", "encoder", "selector", "sensor"};

void read_kind(const KeyText& key, const Node& node, C& into, Mistakes& mistakes) {
  read_kind_word(key, node, kKindsToCome, mistakes,
                 [&](int index) { into.kind = static_cast<ControlKind>(index); });
}

std::string write_kind(const C& from) {
  return quoted(word_at(kKindWords, static_cast<int>(from.kind)));
}

void read_control_sends(const KeyText& key, const Node& node, C& into, Mistakes& mistakes) {
  if (node.kind == NodeKind::kText && node.text == kWhatThePinReads) return;
  const bool contact = into.kind != ControlKind::kPot;
  SendsAllowed allowed;
  if (contact) allowed = {.words_min = 2, .words_max = 2};
  KeyText right = key;
  right.type = contact ? "two numbers or words for up and down, such as [0, 1]"
                       : "two numbers for the ends, such as [0, 1023]";
  read_sends(right, node, allowed, into.sends, mistakes);
}

std::string write_control_sends(const C& from) {
  return from.sends.given ? write_sends(from.sends) : quoted(kWhatThePinReads);
}

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
    // A degree is read like a millimetre: both are kept in thousandths.
    const bool degrees = length.ends_with("deg");
    if (degrees) length.resize(length.size() - 3);
    const auto thousandths = length.empty() ? std::optional<std::int64_t>(280'000)
                             : degrees      ? parse_quantity(length + "mm", Unit::kLength)
                                            : std::nullopt;
    if (thousandths && *thousandths >= 10'000 && *thousandths <= 36'000'000) {
      pot.shape = TravelShape::kRotary;
      pot.travel = *thousandths;
      return;
    }
  }
  add_wrong(key, node, mistakes);
}

std::string write_travel(const C& from) {
  const bool slide = from.pot.shape == TravelShape::kSlide;
  return quoted((slide ? "slide " : "rotary ") + write_millimetres(from.pot.travel) +
                (slide ? " mm" : " deg"));
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

void read_rest(const KeyText& key, const Node& node, C& into, Mistakes& mistakes) {
  if (into.kind == ControlKind::kPot) {
    KeyText right = key;
    right.type = "a share of the travel such as \"50 %\"";
    if (const auto ppm = read_quantity(right, node, Unit::kShare, mistakes)) into.rest_ppm = *ppm;
    return;
  }
  KeyText right = key;
  right.words = "up|down";
  if (const auto index = read_word(right, node, mistakes))
    into.rest_ppm = *index == 0 ? 0 : 1'000'000;
}

std::string write_rest(const C& from) {
  if (from.kind == ControlKind::kPot) return write_quoted_quantity(from.rest_ppm, Unit::kShare);
  return from.rest_ppm == 0 ? "\"up\"" : "\"down\"";
}

void read_bounce(const KeyText& key, const Node& node, C& into, Mistakes& mistakes) {
  if (node.kind == NodeKind::kText && node.text == "none") {
    into.contact.bounce_mean_ns = into.contact.bounce_max_ns = 0;
    return;
  }
  if (node.kind != NodeKind::kTable) return add_wrong(key, node, mistakes);
  read_table(keys_of_control(Section::kBounce), node, into, mistakes);
}

std::string write_bounce(const C& from) {
  return write_inline(keys_of_control(Section::kBounce), from);
}

// One key of the keyboard, or no key at all.
template <auto Key>
KeyOf<C> keyboard_row(KeyText key) {
  key.type = "one character such as \"B\", or the name of a key";
  key.words = kKeyNames;
  key.fallback = "\"\"";
  key.kinds = Key == &HandKeys::hold || Key == &HandKeys::toggle ? kForContacts : kForPot;
  return {key,
          [](const KeyText& row, const Node& node, C& into, Mistakes& mistakes) {
            const auto text = read_text(row, node, mistakes);
            if (!text) return;
            const std::vector<std::string> names = words_of(row);
            const bool character = text->size() == 1 && text->front() > ' ' && text->front() < 0x7f;
            const bool named = std::find(names.begin(), names.end(), *text) != names.end();
            if (text->empty() || character || named)
              into.keys.*Key = *text;
            else
              add_wrong(row, node, mistakes, nearest_or_all(*text == " " ? "space" : *text, names));
          },
          [](const C& from) { return quoted(from.keys.*Key); }};
}

void read_keys(const KeyText& key, const Node& node, C& into, Mistakes& mistakes) {
  if (node.kind != NodeKind::kTable) return add_wrong(key, node, mistakes);
  read_table(keys_of_control(Section::kKeys), node, into, mistakes);
}

// Only the keys that are given, so that the table fits the kind of the control.
std::string write_keys(const C& from) {
  std::string text;
  for (const KeyOf<C>& row : keys_of_control(Section::kKeys)) {
    const std::string value = row.write(from);
    if (value == "\"\"") continue;
    text += (text.empty() ? " " : ", ") + std::string(row.text.name) + " = " + value;
  }
  return text.empty() ? "" : "{" + text + " }";
}

// lint: table
std::span<const KeyOf<C>> control_rows() {
  using S = Section;
  // clang-format off
  static const auto rows = std::to_array<KeyOf<C>>({
      {{.section = S::kControl, .name = "name", .type = kNameType,
        .fallback = "none: every control has one", .meaning = "What the control is called, in "
        "lines and everywhere.", .example = "\"power\""},
       read_name<C>, [](const C& from) { return quoted(from.name); }},
      {{.section = S::kControl, .name = "kind", .type = "a kind of control",
        .fallback = "none: every control has one", .meaning = "pot: turned or slid; button: "
        "springs "
        "back; switch: stays.", .example = "\"pot\"", .shape = ValueShape::kWord,
        .words = kKindWords},
       read_kind, write_kind},
      {{.section = S::kControl, .name = "pin", .type = kPinType,
        .fallback = "given out: analogue pins to pots, pins that cannot dim to the others",
        .meaning = "The pin of the board that it is wired to.", .example = "\"A0\"",
        .shape = ValueShape::kPin},
       read_pin<C>, write_pin<C>},
      integer_row<&C::sends, &Sends::decimals>({.section = S::kControl, .name = "decimals",
          .fallback = "0", .meaning = "Digits after the point of what it sends.", .example = "2",
          .most = protocol::kDecimalsMax}),
      {{.section = S::kControl, .name = "sends",
        .type = "two numbers or words for both ends, or \"what the pin reads\"",
        .fallback = "\"what the pin reads\"", .meaning = "The numbers of both ends of a pot, or "
        "the "
        "numbers or words of a button that is up and down; without it the line carries what the "
        "pin reads: 0 while a button with a pull-up is down.", .example = "[0, 1023]",
        .shape = ValueShape::kNumbersOrTexts, .words = kWhatThePinReads},
       read_control_sends, write_control_sends},
      {{.section = S::kControl, .name = "travel",
        .type = "a way such as \"slide 60 mm\" or \"rotary 280 deg\"",
        .fallback = "\"rotary 280 deg\"", .meaning = "How a pot moves, and how far.",
        .example = "\"slide 60 mm\"", .kinds = kForPot},
       read_travel, write_travel},
      word_row<kTaperWords, kPot, &PotPart::taper>({.section = S::kControl, .name = "taper",
          .fallback = "\"linear\"", .meaning = "How a pot's track follows its travel.",
          .example = "\"log\"", .kinds = kForPot}),
      quantity_row<Unit::kShare, kPot, &PotPart::middle_ppm>({.section = S::kControl,
          .name = "middle", .fallback = "\"50%\"; \"10%\" for log, \"90%\" for antilog",
          .meaning = "What share of its track a pot gives at half travel.", .example = "\"15 %\"",
          .least = 1'000, .most = 999'000, .kinds = kForPot}),
      quantity_row<Unit::kResistance, kPot, &PotPart::resistance_mohm>({.section = S::kControl,
          .name = "resistance", .fallback = "\"10 kohm\"", .meaning = "A pot's whole track.",
          .example = "\"10 kohm\"", .least = 100'000, .most = 10'000'000'000, .kinds = kForPot}),
      {{.section = S::kControl, .name = "ends", .type = "two shares such as [\"2 %\", \"1 %\"]",
        .fallback = "[\"0%\", \"0%\"]", .meaning = "Shares of the track that a pot never reaches, "
        "low end and high end.", .example = "[\"2 %\", \"1 %\"]",
        .shape = ValueShape::kTwoQuantities, .most = 450'000, .kinds = kForPot,
        .unit = Unit::kShare},
       read_ends, write_ends},
      quantity_row<Unit::kVoltage, kPot, &PotPart::noise_uv>({.section = S::kControl,
          .name = "noise", .fallback = "half a step of the converter: \"2.441 mV\" at 5 V and 10 "
          "bits", .meaning = "Noise at a pot's pin, root mean square.", .example = "\"2.5 mV\"",
          .most = 1'000'000, .kinds = kForPot}),
      quantity_row<Unit::kResistance, kPot, &PotPart::source_mohm>({.section = S::kControl,
          .name = "source", .fallback = "a quarter of resistance",
          .meaning = "What the converter sees of a pot at mid track; above 10 kohm it reads a "
          "ghost of its neighbour.", .example = "\"2.5 kohm\"", .most = 100'000'000'000,
          .kinds = kForPot}),
      word_row<kWiredWords, kContact, &ContactPart::wired>({.section = S::kControl,
          .name = "wired", .fallback = "\"pull-up\"", .meaning = "Where a contact's pin rests: a "
          "pull-up reads 1 when up and 0 when down, a pull-down the other way round.",
          .example = "\"pull-up\"", .kinds = kForContacts}),
      {{.section = S::kControl, .name = "bounce", .type = "a table with mean and longest, or "
        "\"none\"", .fallback = "{ mean = \"1.557 ms\", longest = \"6.2 ms\" }",
        .meaning = "How long a contact chatters at each change.",
        .example = "{ mean = \"1.5 ms\", longest = \"6 ms\" }", .shape = ValueShape::kWordOrTable,
        .words = "none", .kinds = kForContacts},
       read_bounce, write_bounce},
      quantity_row<Unit::kResistance, kContact, &ContactPart::contact_mohm>({
          .section = S::kControl, .name = "contact", .fallback = "\"0.1 ohm\"",
          .meaning = "Resistance of a closed contact.", .example = "\"0.1 ohm\"",
          .most = 1'000'000'000, .kinds = kForContacts}),
      {{.section = S::kControl, .name = "rest", .type = "a share, \"up\" or \"down\"",
        .fallback = "\"0%\", or \"up\"", .meaning = "Where it lies when the board starts.",
        .example = "\"50 %\"", .shape = ValueShape::kQuantityOrWord, .words = "up|down",
        .most = 1'000'000},
       read_rest, write_rest},
      {{.section = S::kControl, .name = "at_mm", .type = kAtType, .fallback = "laid out",
        .meaning = "Where it sits on the face: its middle, from the left and from the top.",
        .example = "[40, 70]", .shape = ValueShape::kPlace},
       read_at<C>, write_at<C>},
      {{.section = S::kControl, .name = "keys", .type = "a table with hold, toggle, more or less",
        .fallback = "none", .meaning = "Keys of the keyboard that move it.",
        .example = "{ more = \"W\", less = \"S\" }", .shape = ValueShape::kTable},
       read_keys, write_keys},
      text_row<&C::keys, &HandKeys::gamepad>({.section = S::kControl, .name = "gamepad",
          .fallback = "\"\"", .meaning = "The axis or button of a gamepad that moves it.",
          .example = "\"left y\""}),
  });
  // clang-format on
  return rows;
}

std::span<const KeyOf<C>> bounce_rows() {
  using S = Section;
  // clang-format off
  static const auto rows = std::to_array<KeyOf<C>>({
      quantity_row<Unit::kTime, kContact, &ContactPart::bounce_mean_ns>({.section = S::kBounce,
          .name = "mean", .fallback = "\"1.557 ms\"", .meaning = "How long it chatters on average.",
          .example = "\"1.557 ms\"", .most = 1'000'000'000}),
      quantity_row<Unit::kTime, kContact, &ContactPart::bounce_max_ns>({.section = S::kBounce,
          .name = "longest", .fallback = "\"6.2 ms\"", .meaning = "How long at most.",
          .example = "\"6.2 ms\"", .most = 1'000'000'000}),
  });
  // clang-format on
  return rows;
}

std::span<const KeyOf<C>> key_rows() {
  using S = Section;
  // clang-format off
  static const auto rows = std::to_array<KeyOf<C>>({
      keyboard_row<&HandKeys::hold>({.section = S::kKeys, .name = "hold",
          .meaning = "Down as long as this key is.", .example = "\"B\""}),
      keyboard_row<&HandKeys::toggle>({.section = S::kKeys, .name = "toggle",
          .meaning = "Changes with each press of this key.", .example = "\"N\""}),
      keyboard_row<&HandKeys::more>({.section = S::kKeys, .name = "more",
          .meaning = "Moves towards the high end.", .example = "\"W\""}),
      keyboard_row<&HandKeys::less>({.section = S::kKeys, .name = "less",
          .meaning = "Moves towards the low end.", .example = "\"S\""}),
  });
  // clang-format on
  return rows;
}

}  // namespace

std::span<const KeyOf<C>> keys_of_control(Section section) {
  if (section == Section::kBounce) return bounce_rows();
  if (section == Section::kKeys) return key_rows();
  return control_rows();
}

}  // namespace understudy
