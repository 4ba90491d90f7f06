// The card "Edit": the selected part's keys as a form, parts to add, and the lines.
#include <fmt/format.h>
#include <imgui.h>
#include <imgui_stdlib.h>

#include <algorithm>

#include "sim/panel/control_kinds.h"
#include "sim/panel/edit_lines.h"
#include "sim/panel/edit_parts.h"
#include "sim/panel/output_kinds.h"
#include "sim/panel/parse.h"
#include "sim/window/editor_state.h"
#include "sim/window/places.h"

namespace understudy {
namespace {

using State = Editor::State;

void sentence(ImU32 colour, const std::string& text) {
  ImGui::PushStyleColor(ImGuiCol_Text, colour);
  ImGui::TextWrapped("%s", text.c_str());
  ImGui::PopStyleColor();
}

bool button(const char* label) {
  const bool pressed = ImGui::Button(label);
  note_item("buttons", label);
  return pressed;
}

// A field for what stands at `field` in the text; true when something else was typed and left.
bool typed_field(State& state, const std::string& field, const std::string& now, const char* hint) {
  const auto begun = state.typed.find(field);
  std::string text = begun == state.typed.end() ? now : begun->second;
  ImGui::SetNextItemWidth(-1);
  const bool entered = ImGui::InputTextWithHint(("##" + field).c_str(), hint, &text,
                                                ImGuiInputTextFlags_EnterReturnsTrue);
  note_item("fields", field);
  if (text != now)
    state.typed[field] = text;
  else if (begun != state.typed.end())
    state.typed.erase(begun);
  return (entered || ImGui::IsItemDeactivatedAfterEdit()) && text != now;
}

// Words are typed without quotes; what is no value as it stands is taken for a text.
std::string as_value(const KeyText& key, const std::string& typed) {
  const bool text = key.shape == ValueShape::kText || key.shape == ValueShape::kWord ||
                    key.shape == ValueShape::kQuantity;
  if (typed.starts_with('"') || typed.starts_with('\'')) return typed;
  if (text || !parse_tree("x = " + typed, "value").ok()) return quoted(typed);
  return typed;
}

void draw_key(State& state, const TableRef& table, const KeyText& key) {
  const std::string field = table.table + "." + std::string(key.name);
  const std::string now = raw_value(state.session->text(), table, key.name);
  const std::string label(key.name);
  ImGui::AlignTextToFramePadding();
  ImGui::TextUnformatted(label.c_str());
  if (ImGui::IsItemHovered()) {
    ImGui::SetTooltip("%s\n%s; left out: %s", std::string(key.meaning).c_str(),
                      std::string(key.type).c_str(), std::string(key.fallback).c_str());
  }
  ImGui::NextColumn();
  if (typed_field(state, field, now, std::string(key.fallback).c_str())) {
    const std::string typed = state.typed[field];
    const std::string& text = state.session->text();
    if (key.name == "name")
      state.apply(
          rename_part(
              text, table,
              typed.size() > 1 && typed.front() == '"' ? typed.substr(1, typed.size() - 2) : typed),
          "rename " + name_in(text, table), field);
    else if (typed.empty())
      state.apply(remove_key(text, table, key.name), "leave " + label + " out", field);
    else
      state.apply(set_key(text, table, key.name, as_value(key, typed)), "set " + label, field);
  }
  if (state.told_at == field && !state.told.empty()) sentence(ink::kWrong, state.told);
  ImGui::NextColumn();
}

// Its kinds as a list of words, the right one chosen.
template <class Rows>
void draw_kinds(State& state, const TableRef& table, const Rows& rows, std::string_view now) {
  if (!ImGui::BeginCombo("##kind", std::string(now).c_str())) return;
  for (const auto& row : rows) {
    const std::string word(kind_word(row.kind));
    if (ImGui::Selectable(word.c_str(), word == now) && word != now)
      state.apply(
          change_kind(state.session->text(), table, word, files_beside(state.session->path())),
          "make it " + std::string(row.one), "kind");
  }
  ImGui::EndCombo();
}

template <class Kind>
void draw_form(State& state, const TableRef& table, Kind kind, Section section) {
  ImGui::Columns(2, "##form", false);
  ImGui::SetColumnWidth(0, ImGui::GetFontSize() * 6.5F);
  for (const KeyText& key : all_keys())
    if (key.section == section && key.name != "kind" && is_for_kind(key, kind))
      draw_key(state, table, key);
  ImGui::Columns(1);
}

void draw_selected(State& state) {
  const PanelDescription& panel = state.session->preview()->description;
  const PartId part = *state.selected;
  if (part.index >= (part.output ? panel.outputs.size() : panel.controls.size())) {
    state.selected.reset();
    return;
  }
  const TableRef table = state.table_of(part);
  if (button("Duplicate"))
    state.apply(duplicate_part(state.session->text(), table),
                "duplicate " + name_in(state.session->text(), table));
  ImGui::SameLine();
  if (button("Take it out")) return state.remove_selected();
  ImGui::SetNextItemWidth(-1);
  // The preview is replaced by an edit; the kind is what it was before.
  const std::shared_ptr<const Panel> kept = state.session->preview();
  if (part.output) {
    const OutputKind kind = kept->description.outputs[part.index].kind;
    draw_kinds(state, table, output_kinds(), kind_word(kind));
    draw_form(state, table, kind, Section::kOutput);
  } else {
    const ControlKind kind = kept->description.controls[part.index].kind;
    draw_kinds(state, table, control_kinds(), kind_word(kind));
    draw_form(state, table, kind, Section::kControl);
  }
}

template <class Rows>
void draw_new(State& state, const char* list, const Rows& rows) {
  for (const auto& row : rows) {
    const std::string kind(kind_word(row.kind));
    if (!ImGui::Selectable(std::string(row.one).c_str())) continue;
    const std::string name = free_name(state.session->text(), kind);
    state.apply(
        add_part(state.session->text(), {list, kind, name}, files_beside(state.session->path())),
        "add " + name, "add");
  }
}

// What the line is with the values that the panel reads and shows now; fields by their names.
std::string line_now(const Panel& panel, const Device& live, bool to_game, std::size_t line) {
  const auto& fields = to_game ? panel.to_game_fields : panel.to_panel_fields;
  const protocol::Matcher& formats = to_game ? panel.to_game : panel.to_panel;
  const auto& lines = to_game ? panel.description.lines_to_game : panel.description.lines_to_panel;
  std::size_t format = 0;
  for (std::size_t i = 0; i < line && i < lines.size(); ++i)
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

void draw_line(AreaContext& context, State& state, std::size_t line, std::size_t nth,
               bool to_game) {
  const TableRef table{"line", line};
  ImGui::PushID(static_cast<int>(line));
  sentence(ink::kFaint, to_game ? "To the game" : "To the panel");
  const std::string field = fmt::format("line {}", line + 1);
  const std::string now = raw_value(state.session->text(), table, "text");
  ImGui::PushFont(context.type.typed);
  if (typed_field(state, field, now, "\"{name},{name}\""))
    state.apply(set_key(state.session->text(), table, "text", state.typed[field]), "change a line",
                field);
  const std::string made =
      line_now(*state.session->preview(), context.view.seats[state.seat].device, to_game, nth);
  ImGui::TextWrapped("%s", made.c_str());
  ImGui::PopFont();
  const std::vector<std::string> fields = template_fields(now);
  for (std::size_t i = 0; i < fields.size(); ++i) {
    if (i > 0) ImGui::SameLine();
    if (ImGui::SmallButton(fmt::format("{}##{}", fields[i], i).c_str()))
      ImGui::OpenPopup(fmt::format("##field{}", i).c_str());
    if (!ImGui::BeginPopup(fmt::format("##field{}", i).c_str())) continue;
    const std::string text = state.session->text();
    if (i > 0 && ImGui::Selectable("Further to the front"))
      state.apply(move_field(text, line, i, i - 1), "move " + fields[i], field);
    if (i + 1 < fields.size() && ImGui::Selectable("Further to the end"))
      state.apply(move_field(text, line, i, i + 1), "move " + fields[i], field);
    if (ImGui::Selectable("Take it out"))
      state.apply(remove_field(text, line, i), "take " + fields[i] + " out", field);
    ImGui::EndPopup();
  }
  if (state.told_at == field && !state.told.empty()) sentence(ink::kWrong, state.told);
  ImGui::PopID();
}

void draw_lines(AreaContext& context, State& state) {
  const Result<Node> root = parse_tree(state.session->text(), "file");
  const Node* lines = root.ok() ? root.value().find("line") : nullptr;
  if (lines == nullptr || state.seat >= context.view.seats.size()) return;
  std::size_t counts[2] = {0, 0};
  for (std::size_t line = 0; line < lines->items.size(); ++line) {
    const Node* to = lines->items[line].find("to");
    const bool to_game = to == nullptr || to->text != "panel";
    draw_line(context, state, line, counts[to_game ? 0 : 1]++, to_game);
  }
}

}  // namespace

void Editor::draw_card(AreaContext& context) {
  State& state = *state_;
  if (!state.session) return;
  if (button("Undo")) state.step(true);
  if (ImGui::IsItemHovered() && !state.session->undo_name().empty())
    ImGui::SetTooltip("%s", state.session->undo_name().c_str());
  ImGui::SameLine();
  if (button("Redo")) state.step(false);
  ImGui::SameLine();
  if (button("Save")) state.save();
  ImGui::SameLine();
  if (button("Add...")) ImGui::OpenPopup("##add");
  ImGui::SameLine();
  bool coarse = state.grid_mm == 5;
  if (ImGui::Checkbox("5 mm", &coarse)) state.grid_mm = coarse ? 5 : 1;
  if (ImGui::BeginPopup("##add")) {
    draw_new(state, "control", control_kinds());
    ImGui::Separator();
    draw_new(state, "output", output_kinds());
    ImGui::EndPopup();
  }
  if (unsaved()) sentence(ink::kAmber, "Not saved; the session plays the file as it was.");
  const bool at_field =
      state.told_at.find('.') != std::string::npos || state.told_at.starts_with("line ");
  if (!state.told.empty() && !at_field) sentence(ink::kWrong, state.told);
  if (!state.session->preview()) {
    sentence(ink::kWrong, state.session->wrong());
    return;
  }
  if (state.selected)
    draw_selected(state);
  else
    sentence(ink::kFaint, "Choose a part on the face, and drag it to where it shall be.");
  ImGui::Separator();
  draw_lines(context, state);
}

}  // namespace understudy
