// Writes a description as a panel file with every key, table by table, by the rows of the key
// table.
#include "sim/panel/key_table.h"
#include "sim/panel/panel_file.h"

namespace understudy {
namespace {

template <class T>
std::string table_of(const std::string& head, std::span<const KeyOf<T>> rows, const T& from) {
  std::string text = "\n" + head + "\n";
  for (const KeyOf<T>& row : rows) {
    if constexpr (std::is_same_v<T, ControlDescription> || std::is_same_v<T, OutputDescription>) {
      if (!is_for_kind(row.text, from.kind)) continue;
    }
    const std::string value = row.write(from);
    if (!value.empty()) text += std::string(row.text.name) + " = " + value + "\n";
  }
  return text;
}

std::string lines_of(const std::vector<LineDescription>& lines, const std::string& to) {
  std::string text;
  for (const LineDescription& line : lines) {
    LineDescription plain = line;
    std::string table =
        table_of("[[line]]\nto = \"" + to + "\"", keys_of_line(Section::kLine), plain);
    if (to == "panel") {  // the game decides when it sends
      const std::size_t send = table.find("\nsend = ");
      table.erase(send + 1, table.find('\n', send + 1) - send);
    }
    text += table;
  }
  return text;
}

}  // namespace

std::string resolved_toml(const PanelDescription& panel) {
  std::string text;
  for (const KeyOf<PanelDescription>& row : keys_of_panel(Section::kTop)) {
    const std::string value = row.write(panel);
    if (!value.empty()) text += std::string(row.text.name) + " = " + value + "\n";
  }
  for (const Section section : {Section::kFace, Section::kBoard, Section::kManners, Section::kWire,
                                Section::kHost, Section::kToGame, Section::kToPanel}) {
    text += table_of("[" + std::string(section_path(section)) + "]", keys_of_panel(section), panel);
  }
  if (!panel.matrix.row_pins.empty() || !panel.matrix.column_pins.empty())
    text += table_of("[matrix]", keys_of_panel(Section::kMatrix), panel);
  for (const ControlDescription& control : panel.controls)
    text += table_of("[[control]]", keys_of_control(Section::kControl), control);
  for (const OutputDescription& output : panel.outputs)
    text += table_of("[[output]]", keys_of_output(), output);
  text += lines_of(panel.lines_to_game, "game") + lines_of(panel.lines_to_panel, "panel");
  for (const AnswerDescription& answer : panel.answers)
    text += table_of("[[answer]]", keys_of_answer(), answer);
  return text;
}

}  // namespace understudy
