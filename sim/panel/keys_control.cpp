// Rows of the key table: what all controls share, and the list of their kinds.
#include <algorithm>
#include <array>

#include "protocol/field.h"
#include "sim/base/text.h"
#include "sim/panel/control_kinds.h"
#include "sim/panel/kind_rows.h"
#include "sim/panel/readers.h"
#include "sim/panel/sends.h"
#include "sim/panel/shared_readers.h"

namespace understudy {
namespace {

using C = ControlDescription;

constexpr std::string_view kKeyNames =
    "space|enter|tab|up|down|left|right|"
    "F1|F2|F3|F4|F5|F6|F7|F8|F9|F10|F11|F12";
constexpr std::string_view kWhatThePinReads = "what the pin reads";

// Every kind, one line each, in the order of ControlKind.
const std::vector<ControlKindRow>& kind_list() {
  static const std::vector<ControlKindRow> kinds = {
      pot_kind(),       //
      button_kind(),    //
      switch_kind(),    //
      selector_kind(),  //
      stick_kind(),     //
      encoder_kind(),   //
      sensor_kind(),    //
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

// The kind brings values of its own, which the keys behind it may change.
void read_kind(const KeyText& key, const Node& node, C& into, Mistakes& mistakes) {
  const auto index = read_word(key, node, mistakes);
  if (!index) return;
  into.kind = static_cast<ControlKind>(*index);
  if (const auto begin = control_kind(into.kind).begin) begin(into);
}

void read_control_sends(const KeyText& key, const Node& node, C& into, Mistakes& mistakes) {
  const SendsRule& rule = control_kind(into.kind).sends;
  if (rule.reads_pin && node.kind == NodeKind::kText && node.text == kWhatThePinReads) return;
  KeyText right = key;
  right.type = rule.type;
  read_sends(right, node, {.words_min = rule.words_min, .words_max = rule.words_max}, into.sends,
             mistakes);
}

std::string write_control_sends(const C& from) {
  return from.sends.given ? write_sends(from.sends) : quoted(kWhatThePinReads);
}

void read_rest(const KeyText& key, const Node& node, C& into, Mistakes& mistakes) {
  control_kind(into.kind).read_rest(key, node, into, mistakes);
}

std::string write_rest(const C& from) {
  return control_kind(from.kind).write_rest(from);
}

// One key of the keyboard, or no key at all.
template <auto Key>
KeyOf<C> keyboard_row(KeyText key) {
  key.type = "one character such as \"B\", or the name of a key";
  key.words = kKeyNames;
  key.fallback = "\"\"";
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

// What stands before the keys of the kinds.
std::vector<KeyOf<C>> head_rows() {
  using S = Section;
  // clang-format off
  return {
      {{.section = S::kControl, .name = "name", .type = kNameType,
        .fallback = "none: every control has one", .meaning = "What the control is called, in "
        "lines and everywhere.", .example = "\"power\""},
       read_name<C>, [](const C& from) { return quoted(from.name); }},
      {{.section = S::kControl, .name = "kind", .type = "a kind of control",
        .fallback = "none: every control has one", .meaning = all_meanings(),
        .example = "\"pot\"", .shape = ValueShape::kWord, .words = all_words()},
       read_kind, [](const C& from) { return quoted(kind_word(from.kind)); }},
      {{.section = S::kControl, .name = "pin", .type = kPinType,
        .fallback = "given out: analogue pins to pots and sensors, pins that cannot dim to the "
        "others", .meaning = "The pin of the board that it is wired to.", .example = "\"A0\"",
        .shape = ValueShape::kPin},
       read_pin<C>, write_pin<C>},
      {{.section = S::kControl, .name = "pins", .type = kPinsType,
        .fallback = "given out: analogue pins to x and y of sticks, pins that cannot dim to the "
        "rest", .meaning = "The pins of the board that it is wired to: of a selector one for each "
        "place, of a stick x, y and press, of an encoder its two contacts.",
        .example = "[\"D2\", \"D3\"]", .shape = ValueShape::kPins},
       read_pins<C>, write_pins<C>},
      integer_row<&C::sends, &Sends::decimals>({.section = S::kControl, .name = "decimals",
          .fallback = "0", .meaning = "Digits after the point of what it sends.", .example = "2",
          .most = protocol::kDecimalsMax}),
      {{.section = S::kControl, .name = "sends",
        .type = "two numbers for both ends, or words, or \"what the pin reads\"",
        .fallback = "\"what the pin reads\"; places from 0 on of a selector; [-32768, 32767] of an "
        "encoder", .meaning = "The numbers of both ends of a pot, of both ways of a stick, of a "
        "sensor's range; the numbers or words of a button that is up and down; a word for each "
        "place of a selector; the numbers between which an encoder's count goes round. Without it "
        "the line carries what the pin reads: 0 while a button with a pull-up is down.",
        .example = "[0, 1023]", .shape = ValueShape::kNumbersOrTexts, .words = kWhatThePinReads},
       read_control_sends, write_control_sends},
  };
  // clang-format on
}

// And what stands behind them.
std::vector<KeyOf<C>> tail_rows() {
  using S = Section;
  // clang-format off
  return {
      {{.section = S::kControl, .name = "rest", .type = "a share, \"up\" or \"down\", or a place",
        .fallback = "\"0%\", \"up\", or the first place", .meaning = "Where it lies when the board "
        "starts: a share of a pot's travel, up or down, or a selector's place by its word or "
        "counted from 1.", .example = "\"50 %\"", .shape = ValueShape::kIntegerOrText,
        .words = "up|down", .most = 1'000'000},
       read_rest, write_rest},
      {{.section = S::kControl, .name = "at_mm", .type = kAtType, .fallback = "laid out",
        .meaning = "Where it sits on the face: its middle, from the left and from the top.",
        .example = "[40, 70]", .shape = ValueShape::kPlace},
       read_at<C>, write_at<C>},
      {{.section = S::kControl, .name = "keys", .type = "a table with hold, toggle, more, less, up "
        "or down", .fallback = "none", .meaning = "Keys of the keyboard that move it.",
        .example = "{ more = \"W\", less = \"S\" }", .shape = ValueShape::kTable},
       read_keys, write_keys},
      text_row<&C::keys, &HandKeys::gamepad>({.section = S::kControl, .name = "gamepad",
          .fallback = "\"\"", .meaning = "The axis or button of a gamepad that moves it.",
          .example = "\"left y\""}),
  };
  // clang-format on
}

std::vector<KeyOf<C>> keyboard_rows() {
  using S = Section;
  // clang-format off
  return {
      keyboard_row<&HandKeys::hold>({.section = S::kKeys, .name = "hold",
          .meaning = "Down as long as this key is; of a stick, what it presses.",
          .example = "\"B\""}),
      keyboard_row<&HandKeys::toggle>({.section = S::kKeys, .name = "toggle",
          .meaning = "Changes with each press of this key.", .example = "\"N\""}),
      keyboard_row<&HandKeys::more>({.section = S::kKeys, .name = "more",
          .meaning = "Moves towards the high end, to the next place or by one detent; of a stick, "
          "x.", .example = "\"W\""}),
      keyboard_row<&HandKeys::less>({.section = S::kKeys, .name = "less",
          .meaning = "Moves towards the low end, to the place before or by one detent; of a stick, "
          "x.", .example = "\"S\""}),
      keyboard_row<&HandKeys::up>({.section = S::kKeys, .name = "up",
          .meaning = "Moves y of a stick towards the high end.", .example = "\"I\""}),
      keyboard_row<&HandKeys::down>({.section = S::kKeys, .name = "down",
          .meaning = "Moves y of a stick towards the low end.", .example = "\"K\""}),
  };
  // clang-format on
}

// Adds the kinds that say in `has` that they have these keys too.
std::vector<KeyOf<C>> for_kinds(std::vector<KeyOf<C>> rows) {
  for (KeyOf<C>& row : rows) {
    const bool keyboard = row.text.section == Section::kKeys;
    const std::string name = (keyboard ? "keys." : "") + std::string(row.text.name);
    for (const ControlKindRow& kind : kind_list())
      if (names_key(kind.has, name)) row.text.kinds |= kind_bit(kind.kind);
  }
  return rows;
}

std::vector<KeyOf<C>> control_rows() {
  std::vector<KeyOf<C>> rows = head_rows();
  for (const ControlKindRow& kind : kind_list()) {
    if (kind.rows == nullptr) continue;
    for (KeyOf<C> row : kind.rows()) {
      row.text.kinds = kind_bit(kind.kind);
      rows.push_back(row);
    }
  }
  for (const KeyOf<C>& row : tail_rows()) rows.push_back(row);
  return for_kinds(std::move(rows));
}

}  // namespace

std::span<const ControlKindRow> control_kinds() {
  return kind_list();
}

const ControlKindRow& control_kind(ControlKind kind) {
  return row_of_kind(kind_list(), kind);
}

std::span<const KeyOf<C>> keys_of_control(Section section) {
  static const std::vector<KeyOf<C>> keyboard = for_kinds(keyboard_rows());
  static const std::vector<KeyOf<C>> control = control_rows();
  if (section == Section::kBounce) return bounce_rows();
  return section == Section::kKeys ? keyboard : control;
}

std::string with_wiring(std::string text, const C& control) {
  return std::move(text) + (control.contact.wired == Wiring::kPullUp ? ", pull-up" : ", pull-down");
}

void send_analogue_reading(C& control, const BoardDescription& board) {
  if (control.sends.given) return;
  control.sends = {};
  control.sends.high = (std::int64_t{1} << board.adc_bits) - 1;
}

Sends contact_reading(Wiring wired) {
  Sends sends;
  sends.low = wired == Wiring::kPullUp ? 1 : 0;
  sends.high = 1 - sends.low;
  return sends;
}

void add_at(const Node& table, std::string_view name, std::string found, std::string expected,
            std::string remedy, Mistakes& mistakes) {
  const Node* node = table.find(name);
  mistakes.add({node == nullptr ? table.place : node->place, "control." + std::string(name),
                std::move(found), std::move(expected), std::move(remedy)});
}

}  // namespace understudy
