// The card "Lines of text": each line as it is written and as it is now, its fields, and new ones.
#include <fmt/format.h>
#include <imgui.h>

#include <algorithm>
#include <vector>

#include "sim/model/kinds.h"
#include "sim/panel/edit_lines.h"
#include "sim/panel/parse.h"
#include "sim/window/area_parts.h"
#include "sim/window/editor_fields.h"
#include "sim/window/places.h"

namespace understudy {
namespace {

using State = Editor::State;

// What the line is with the values that the panel reads and shows now; fields by their names.
std::string line_now(const Panel& panel, const Device& live, const EditedLine& line) {
  const bool to_game = line.to_game;
  const auto& fields = to_game ? panel.to_game_fields : panel.to_panel_fields;
  const protocol::Matcher& formats = to_game ? panel.to_game : panel.to_panel;
  const auto& lines = to_game ? panel.description.lines_to_game : panel.description.lines_to_panel;
  std::size_t format = 0;
  for (std::size_t i = 0; i < line.nth && i < lines.size(); ++i)
    format += std::max<std::size_t>(1, lines[i].each.size());
  if (format >= formats.size()) return "";
  const auto& known = to_game ? live.panel().to_game_fields : live.panel().to_panel_fields;
  std::vector<std::int64_t> values;
  for (const protocol::Field& field : fields) {
    std::int64_t value = field.min;
    for (std::size_t i = 0; i < known.size(); ++i)
      if (known[i].name == field.name)
        value = to_game ? live.field_number(i) : live.output_number(i);
    values.push_back(std::clamp(value, field.min, field.max));
  }
  std::string bytes(formats.format(format).line_bytes_max(), '\0');
  bytes.resize(formats.format(format).encode(values, {}, bytes));
  return bytes;
}

// What a line of this direction can carry, each as "{name}" or "{name.part}".
std::vector<std::string> fields_to_add(const PanelDescription& panel, bool to_game) {
  std::vector<std::string> fields;
  const auto add = [&](const auto& part) {
    for (const std::string_view one : line_parts(part))
      fields.push_back("{" + part_name(part.name, one) + "}");
  };
  if (to_game)
    for (const ControlDescription& control : panel.controls) add(control);
  else
    for (const OutputDescription& output : panel.outputs) add(output);
  return fields;
}

void draw_field(State& state, std::size_t line, std::size_t at, const std::string& told_at) {
  const std::vector<std::string> fields = state.line_rows()[line].fields;
  const std::string popup = fmt::format("##field{}", at);
  if (small_button(fmt::format("{}##{}", fields[at], at),
                   fmt::format("line {} {}", line + 1, fields[at])))
    ImGui::OpenPopup(popup.c_str());
  if (!ImGui::BeginPopup(popup.c_str())) return;
  const std::string text = state.session->text();
  const auto chosen = [](const char* label) {
    const bool is = ImGui::Selectable(label);
    note_item("choices", label);
    return is;
  };
  if (at > 0 && chosen("Earlier in the line"))
    state.apply(move_field(text, line, at, at - 1), "move " + fields[at], told_at);
  if (at + 1 < fields.size() && chosen("Later in the line"))
    state.apply(move_field(text, line, at, at + 1), "move " + fields[at], told_at);
  if (chosen("Remove")) state.apply(remove_field(text, line, at), "remove " + fields[at], told_at);
  ImGui::EndPopup();
}

// A list of fields to choose from; "" while none was.
std::string choose_field(const std::vector<std::string>& fields) {
  std::string chosen;
  for (const std::string& field : fields) {
    if (ImGui::Selectable(field.c_str())) chosen = field;
    note_item("choices", field);
  }
  return chosen;
}

void draw_adding(State& state, std::size_t line, const std::string& told_at) {
  const EditedLine row = state.line_rows()[line];
  if (small_button("Add a field", told_at + " Add a field")) ImGui::OpenPopup("##add a field");
  if (!ImGui::BeginPopup("##add a field")) return;
  const std::string field =
      choose_field(fields_to_add(state.session->preview()->description, row.to_game));
  if (!field.empty())
    state.apply(add_field(state.session->text(), line, row.fields.size(), field), "add " + field,
                told_at);
  ImGui::EndPopup();
}

// Goes on in the same row where there is room for the label.
void in_row(const std::string& label) {
  const float width = ImGui::CalcTextSize(label.c_str()).x + 2 * ImGui::GetStyle().FramePadding.x;
  const float right = ImGui::GetWindowPos().x + ImGui::GetWindowContentRegionMax().x;
  if (ImGui::GetItemRectMax().x + ImGui::GetStyle().ItemSpacing.x + width < right)
    ImGui::SameLine();
}

void draw_line(AreaContext& context, State& state, std::size_t line) {
  const EditedLine row = state.line_rows()[line];
  const TableRef table{"line", line};
  const std::string field = fmt::format("line {}", line + 1);
  ImGui::PushID(static_cast<int>(line));
  const Device& live = context.view.seats[state.seat].device;
  const std::string made = line_now(*state.session->preview(), live, row);
  wrapped_text(row.to_game ? "To the game, now:" : "To the panel, now:", ink::kFaint);
  ImGui::SameLine();
  ImGui::PushFont(context.type.typed);
  ImGui::TextWrapped("%s", made.c_str());
  note_place("lines", made, ImGui::GetItemRectMin(), ImGui::GetItemRectMax());
  if (typed_field(state, field, row.raw, "\"{name},{name}\""))
    state.apply(set_key(state.session->text(), table, "text", state.typed[field]), "change a line",
                field);
  ImGui::PopFont();
  draw_told(state, field);
  for (std::size_t i = 0; i < row.fields.size() && i < state.line_rows()[line].fields.size(); ++i) {
    if (i > 0) in_row(row.fields[i]);
    draw_field(state, line, i, field);
  }
  if (!row.fields.empty()) in_row("Add a field");
  draw_adding(state, line, field);
  in_row("Duplicate the line");
  if (small_button("Duplicate the line", field + " Duplicate"))
    state.apply(duplicate_block(state.session->text(), table), "duplicate a line", field);
  in_row("Remove the line");
  if (small_button("Remove the line", field + " Remove"))
    state.apply(remove_block(state.session->text(), table), "remove a line", "lines");
  ImGui::PopID();
  ImGui::Dummy({1, 5 * context.unit});
}

void draw_new_line(State& state, const char* label, bool to_game) {
  const std::string popup = std::string("##") + label;
  if (button(label)) ImGui::OpenPopup(popup.c_str());
  if (!ImGui::BeginPopup(popup.c_str())) return;
  const std::string field =
      choose_field(fields_to_add(state.session->preview()->description, to_game));
  if (!field.empty()) {
    // With its name before it, so that it can be told from other lines.
    const std::string name = field.substr(1, field.size() - 2);
    state.apply(add_block(state.session->text(), "line",
                          {{"to", to_game ? "\"game\"" : "\"panel\""},
                           {"text", quoted(name + " " + field)}}),
                "add a line", "lines");
  }
  ImGui::EndPopup();
}

}  // namespace

void Editor::draw_lines(AreaContext& context) {
  State& state = *state_;
  if (!state.session || !state.session->preview() || state.seat >= context.view.seats.size())
    return;
  for (std::size_t line = 0; line < state.line_rows().size(); ++line)
    draw_line(context, state, line);
  draw_new_line(state, "New line to the game", true);
  ImGui::SameLine();
  draw_new_line(state, "New line to the panel", false);
  draw_told(state, "lines");
}

}  // namespace understudy
