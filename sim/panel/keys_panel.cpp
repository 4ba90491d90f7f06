// Rows of the key table: the top of the file and the face; tables are read by their own rows.
#include <array>

#include "sim/panel/presets.h"
#include "sim/panel/readers.h"
#include "sim/panel/rows.h"

namespace understudy {
namespace {

using P = PanelDescription;

// Reads the table of `section`, whose rows belong to the panel as well.
template <Section section>
void read_section(const KeyText& key, const Node& node, P& into, Mistakes& mistakes) {
  if (node.kind != NodeKind::kTable) return add_wrong(key, node, mistakes);
  read_table(keys_of_panel(section), node, into, mistakes);
}

// board = "preset", or [board] with a preset and single values. The preset comes first, so that
// [wire] and [host] further down change what it gives.
void read_board(const KeyText& key, const Node& node, P& into, Mistakes& mistakes) {
  if (node.kind == NodeKind::kText) {
    if (read_word(key, node, mistakes)) apply_preset(node.text, into);
    return;
  }
  if (node.kind != NodeKind::kTable) return add_wrong(key, node, mistakes);
  const Node* preset = node.find("preset");
  if (preset != nullptr) apply_preset(preset->text, into);
  read_table(board_rows(), node, into, mistakes);
}

// A wire of another kind than the preset's brings its own host side.
void read_wire(const KeyText& key, const Node& node, P& into, Mistakes& mistakes) {
  const WireKind before = into.wire.kind;
  read_section<Section::kWire>(key, node, into, mistakes);
  if (into.wire.kind != before) into.host = default_host(into.wire.kind);
}

// Lists of tables are read after everything else, when the board is known (parse.cpp).
void leave(const KeyText&, const Node&, P&, Mistakes&) {}
std::string write_nothing(const P&) {
  return "";
}

KeyOf<P> table_row(KeyText key, void (*read)(const KeyText&, const Node&, P&, Mistakes&)) {
  key.section = Section::kTop;
  if (key.type.empty()) key.type = "a table";
  if (key.fallback.empty()) key.fallback = "a table of defaults";
  if (key.shape == ValueShape::kText) key.shape = ValueShape::kTable;
  return {key, read, write_nothing};
}

KeyOf<P> list_row(KeyText key) {
  key.shape = ValueShape::kTables;
  key.type = "a list of tables";
  return table_row(key, leave);
}

// lint: table
std::span<const KeyOf<P>> top_rows() {
  using S = Section;
  // clang-format off
  static const auto rows = std::to_array<KeyOf<P>>({
      text_row<&P::name>({.section = S::kTop, .name = "panel", .type = "a text",
          .fallback = "none: every file has it",
          .meaning = "What the controller is called.", .example = "\"Tram desk\""}),
      table_row({.name = "face", .meaning = section_meaning(S::kFace),
                 .example = "{ width_mm = 260, height_mm = 140 }"}, read_section<S::kFace>),
      table_row({.name = "board", .type = "the name of a preset, or a table",
                 .fallback = "\"bootloader-8bit\"", .meaning = section_meaning(S::kBoard),
                 .example = "\"bootloader-8bit\"", .shape = ValueShape::kWordOrTable,
                 .words = kPresetWords}, read_board),
      table_row({.name = "manners", .meaning = section_meaning(S::kManners),
                 .example = "{ loop = \"20 ms\" }"}, read_section<S::kManners>),
      table_row({.name = "wire", .meaning = section_meaning(S::kWire),
                 .example = "{ baud = 115200 }"}, read_wire),
      table_row({.name = "host", .meaning = section_meaning(S::kHost),
                 .example = "{ flush = \"4 ms\" }"}, read_section<S::kHost>),
      table_row({.name = "to_game", .meaning = section_meaning(S::kToGame),
                 .example = "{ ends = \"\\n\" }"}, read_section<S::kToGame>),
      table_row({.name = "to_panel", .meaning = section_meaning(S::kToPanel),
                 .example = "{ ends = \"\\n\" }"}, read_section<S::kToPanel>),
      table_row({.name = "matrix", .fallback = "none", .meaning = section_meaning(S::kMatrix),
                 .example = "{ rows = [\"D2\", \"D3\"], columns = [\"D4\", \"D5\"] }"},
                read_section<S::kMatrix>),
      list_row({.name = "control", .fallback = "none", .meaning = section_meaning(S::kControl),
                .example = "[{ name = \"bell\", kind = \"button\" }]"}),
      list_row({.name = "output", .fallback = "none", .meaning = section_meaning(S::kOutput),
                .example = "[{ name = \"door_lamp\", kind = \"lamp\" }]"}),
      list_row({.name = "line", .fallback = "one each way, with all names and commas",
                .meaning = section_meaning(S::kLine),
                .example = "[{ to = \"game\", text = \"{power},{bell}\" }]"}),
      list_row({.name = "answer", .fallback = "none", .meaning = section_meaning(S::kAnswer),
                .example = "[{ when = \"doors press\", expect = \"door_lamp lit\" }]"}),
  });
  // clang-format on
  return rows;
}

std::span<const KeyOf<P>> face_rows() {
  using S = Section;
  // clang-format off
  static const auto rows = std::to_array<KeyOf<P>>({
      millimetres_row<&P::width_um>({.section = S::kFace, .name = "width_mm",
          .fallback = "wide enough for all parts", .meaning = "Width of the plate.",
          .example = "260", .least = 1'000}),
      millimetres_row<&P::height_um>({.section = S::kFace, .name = "height_mm",
          .fallback = "high enough for all parts", .meaning = "Height of the plate.",
          .example = "140", .least = 1'000}),
  });
  // clang-format on
  return rows;
}

}  // namespace

std::span<const KeyOf<P>> keys_of_panel(Section section) {
  switch (section) {
    case Section::kTop:
      return top_rows();
    case Section::kFace:
      return face_rows();
    case Section::kBoard:
      return board_rows();
    case Section::kManners:
      return manners_rows();
    case Section::kGather:
      return gather_rows();
    case Section::kHeap:
      return heap_rows();
    case Section::kWire:
      return wire_rows();
    case Section::kHost:
      return host_rows();
    case Section::kToGame:
      return to_game_rows();
    case Section::kToPanel:
      return to_panel_rows();
    case Section::kMatrix:
      return matrix_rows();
    default:
      return {};
  }
}

}  // namespace understudy
