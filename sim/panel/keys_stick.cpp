// Rows of the key table: sticks, two pots in a gimbal and mostly a button under them.
#include <array>

#include "sim/panel/control_kinds.h"
#include "sim/panel/readers.h"
#include "sim/panel/sends.h"

namespace understudy {
namespace {

using C = ControlDescription;
constexpr auto kStick = &C::stick;
constexpr std::string_view kWhatThePinReads = "what the pin reads";

void read_centre(const KeyText& key, const Node& node, C& into, Mistakes& mistakes) {
  if (node.kind != NodeKind::kList || node.items.size() != 2) return add_wrong(key, node, mistakes);
  const auto x = read_quantity(key, node.items[0], Unit::kShare, mistakes);
  const auto y = read_quantity(key, node.items[1], Unit::kShare, mistakes);
  if (!x || !y) return;
  into.stick.centre_x_ppm = *x;
  into.stick.centre_y_ppm = *y;
}

std::string write_centre(const C& from) {
  return "[" + write_quoted_quantity(from.stick.centre_x_ppm, Unit::kShare) + ", " +
         write_quoted_quantity(from.stick.centre_y_ppm, Unit::kShare) + "]";
}

void read_press_sends(const KeyText& key, const Node& node, C& into, Mistakes& mistakes) {
  if (node.kind == NodeKind::kText && node.text == kWhatThePinReads) return;
  read_sends(key, node, {.words_min = 2, .words_max = 2}, into.stick.press_sends, mistakes);
}

std::string write_press_sends(const C& from) {
  const Sends& sends = from.stick.press_sends;
  return sends.given ? write_sends(sends) : quoted(kWhatThePinReads);
}

// lint: table
std::span<const KeyOf<C>> stick_rows() {
  using S = Section;
  // clang-format off
  static const auto rows = std::to_array<KeyOf<C>>({
      {{.section = S::kControl, .name = "centre", .type = "two shares such as [\"48 %\", \"52 %\"]",
        .fallback = "[\"50%\", \"50%\"]", .meaning = "Where a stick rests, of the travel of x and "
        "of y: seldom in the very middle.", .example = "[\"48 %\", \"52 %\"]",
        .shape = ValueShape::kTwoQuantities, .most = 1'000'000, .unit = Unit::kShare},
       read_centre, write_centre},
      flag_row<kStick, &StickPart::springs>({.section = S::kControl, .name = "springs",
          .fallback = "true", .meaning = "Whether a stick that is let go springs back to its "
          "centre.", .example = "false"}),
      flag_row<kStick, &StickPart::presses>({.section = S::kControl, .name = "presses",
          .fallback = "true", .meaning = "Whether a stick has a button under it: NAME.press in "
          "lines.", .example = "false"}),
      {{.section = S::kControl, .name = "press_sends",
        .type = "two numbers or words for up and down, or \"what the pin reads\"",
        .fallback = "\"what the pin reads\"", .meaning = "What NAME.press of a stick carries.",
        .example = "[0, 1]", .shape = ValueShape::kNumbersOrTexts, .words = kWhatThePinReads},
       read_press_sends, write_press_sends},
  });
  // clang-format on
  return rows;
}

void complete(C& control, const BoardDescription& board) {
  send_analogue_reading(control, board);
  Sends& press = control.stick.press_sends;
  if (!press.given) press = contact_reading(control.contact.wired);
}

std::string pin_text(const C& control, std::size_t n) {
  if (n < 2) return n == 0 ? "stick, x" : "stick, y";
  return with_wiring("stick, press", control);
}

}  // namespace

ControlKindRow stick_kind() {
  return {.kind = ControlKind::kStick,
          .one = "a stick",
          .many = "sticks",
          .meaning = "tilts two ways, and mostly presses",
          .example =
              "[[control]]\nname = \"stick\"\nkind = \"stick\"\n"
              "pins = [\"A0\", \"A1\", \"D2\"]\ncentre = [\"48 %\", \"52 %\"]\n"
              "press_sends = [0, 1]\n"
              "keys = { less = \"left\", more = \"right\", up = \"up\", down = \"down\", "
              "hold = \"space\" }\n",
          .has =
              "pins|taper|middle|resistance|ends|noise|source|wired|bounce|contact|keys|"
              "keys.more|keys.less|keys.up|keys.down|keys.hold|gamepad",
          .sends = {.type = "two numbers for the ends of both ways, such as [0, 1023]"},
          .size = [](const C&) -> Footprint { return {.width_um = 34'000, .height_um = 34'000}; },
          .pins_are = "x, y and press; without presses the first two",
          .rows = stick_rows,
          .pin_text = pin_text,
          .complete = complete};
}

}  // namespace understudy
