// Rows of the key table: buttons, switches, and what any contact is made of.
#include <array>

#include "sim/panel/control_kinds.h"
#include "sim/panel/readers.h"

namespace understudy {
namespace {

using C = ControlDescription;
constexpr auto kContact = &C::contact;
constexpr std::string_view kWiredWords = "pull-up|pull-down";

void read_bounce(const KeyText& key, const Node& node, C& into, Mistakes& mistakes) {
  if (node.kind == NodeKind::kText && node.text == "none") {
    into.contact.bounce_mean_ns = into.contact.bounce_max_ns = 0;
    return;
  }
  if (node.kind != NodeKind::kTable) return add_wrong(key, node, mistakes);
  read_table(bounce_rows(), node, into, mistakes);
}

std::string write_bounce(const C& from) {
  return write_inline(bounce_rows(), from);
}

// [row, column], counted from 1 as people do.
void read_cell(const KeyText& key, const Node& node, C& into, Mistakes& mistakes) {
  if (node.kind != NodeKind::kList || node.items.size() != 2) return add_wrong(key, node, mistakes);
  const auto cell = read_integers(key, node, mistakes);
  if (!cell) return;
  into.cell.row = static_cast<int>((*cell)[0] - 1);
  into.cell.column = static_cast<int>((*cell)[1] - 1);
}

std::string write_cell(const C& from) {
  if (!from.cell.given()) return "";
  return write_integers({from.cell.row + 1, from.cell.column + 1});
}

// lint: table
std::span<const KeyOf<C>> contact_rows() {
  using S = Section;
  // clang-format off
  static const auto rows = std::to_array<KeyOf<C>>({
      {{.section = S::kControl, .name = "cell",
        .type = "a row and a column of the matrix, counted from 1, such as [1, 2]",
        .fallback = "none: it has a pin of its own", .meaning = "Where a button or switch sits in "
        "the matrix.", .example = "[1, 2]", .shape = ValueShape::kCell, .least = 1,
        .most = kMatrixLinesMax},
       read_cell, write_cell},
      word_row<kWiredWords, kContact, &ContactPart::wired>({.section = S::kControl,
          .name = "wired", .fallback = "\"pull-up\"", .meaning = "Where a contact's pin rests: a "
          "pull-up reads 1 when up and 0 when down, a pull-down the other way round.",
          .example = "\"pull-up\""}),
      {{.section = S::kControl, .name = "bounce", .type = "a table with mean and longest, or "
        "\"none\"", .fallback = "{ mean = \"1.557 ms\", longest = \"6.2 ms\" }; of an encoder "
        "{ mean = \"0.5 ms\", longest = \"2 ms\" }",
        .meaning = "How long a contact chatters at each change.",
        .example = "{ mean = \"1.5 ms\", longest = \"6 ms\" }", .shape = ValueShape::kWordOrTable,
        .words = "none"},
       read_bounce, write_bounce},
      quantity_row<Unit::kResistance, kContact, &ContactPart::contact_mohm>({
          .section = S::kControl, .name = "contact", .fallback = "\"0.1 ohm\"",
          .meaning = "Resistance of a closed contact.", .example = "\"0.1 ohm\"",
          .most = 1'000'000'000}),
  });
  // clang-format on
  return rows;
}

void read_rest(const KeyText& key, const Node& node, C& into, Mistakes& mistakes) {
  KeyText right = key;
  right.words = "up|down";
  if (const auto index = read_word(right, node, mistakes))
    into.rest_ppm = *index == 0 ? 0 : 1'000'000;
}

std::string write_rest(const C& from) {
  return from.rest_ppm == 0 ? "\"up\"" : "\"down\"";
}

// What sits in the matrix has neither a pin nor a pull of its own.
void finish(const Node& table, C& into, Mistakes& mistakes) {
  if (!into.cell.given()) return;
  if (table.find("pin") != nullptr) {
    add_at(table, "pin", "it beside cell", "one of both",
           "what sits in the matrix is read by a row and a column", mistakes);
  }
  if (into.contact.wired == Wiring::kPullDown) {
    add_at(table, "wired", "\"pull-down\" beside cell", "\"pull-up\"",
           "the rows of a matrix are pulled up", mistakes);
  }
}

void complete(C& control, const BoardDescription&) {
  if (!control.sends.given) control.sends = contact_reading(control.contact.wired);
}

// Both are the same contact; a hand treats them in two ways.
ControlKindRow contact_kind(ControlKind kind) {
  ControlKindRow row;
  row.kind = kind;
  row.sends = {.type = "two numbers or words for up and down, such as [0, 1]",
               .words_min = 2,
               .words_max = 2};
  row.pin_text = [](const C& control, std::size_t) {
    return with_wiring(std::string(kind_word(control.kind)), control);
  };
  row.finish = finish;
  row.complete = complete;
  row.read_rest = read_rest;
  row.write_rest = write_rest;
  return row;
}

}  // namespace

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

ControlKindRow button_kind() {
  ControlKindRow row = contact_kind(ControlKind::kButton);
  row.one = "a button";
  row.many = "buttons";
  row.meaning = "springs back";
  row.example =
      "[[control]]\nname = \"bell\"\nkind = \"button\"\nsends = [0, 1]\n"
      "keys = { hold = \"B\" }\n";
  row.has = "pin|rest|keys|keys.hold|keys.toggle|gamepad";
  row.size = [](const C&) -> Footprint { return {.width_um = 16'000, .height_um = 16'000}; };
  row.rows = contact_rows;
  return row;
}

ControlKindRow switch_kind() {
  ControlKindRow row = contact_kind(ControlKind::kSwitch);
  row.one = "a switch";
  row.many = "switches";
  row.meaning = "stays";
  row.example =
      "[[control]]\nname = \"sander\"\nkind = \"switch\"\nsends = [\"OFF\", \"ON\"]\n"
      "keys = { toggle = \"N\" }\n";
  row.has = "pin|cell|wired|bounce|contact|rest|keys|keys.hold|keys.toggle|gamepad";
  row.size = [](const C&) -> Footprint { return {.width_um = 15'000, .height_um = 25'000}; };
  return row;
}

}  // namespace understudy
