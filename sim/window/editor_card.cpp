// The card "Edit": undo, saving, parts to add, and the chosen part's keys as a form.
#include <fmt/format.h>
#include <imgui.h>
#include <imgui_stdlib.h>

#include <algorithm>
#include <cmath>

#include "sim/panel/control_kinds.h"
#include "sim/panel/edit_parts.h"
#include "sim/panel/output_kinds.h"
#include "sim/panel/parse.h"
#include "sim/window/area_parts.h"
#include "sim/window/editor_fields.h"
#include "sim/window/free_spot.h"
#include "sim/window/places.h"

namespace understudy {
namespace {

using State = Editor::State;

// What is a text in any case is shown and typed without its quotes.
bool is_text(const KeyText& key) {
  return key.shape == ValueShape::kText || key.shape == ValueShape::kWord ||
         key.shape == ValueShape::kQuantity;
}

std::string without_quotes(const std::string& raw) {
  const bool plain = raw.size() > 1 && raw.front() == '"' && raw.back() == '"' &&
                     raw.find_first_of("\\\"", 1) == raw.size() - 1;
  return plain ? raw.substr(1, raw.size() - 2) : raw;
}

// What is no value as it stands is taken for a text.
std::string as_value(const KeyText& key, const std::string& typed) {
  const bool text = is_text(key);
  if (typed.starts_with('"') || typed.starts_with('\'')) return typed;
  if (text || !parse_tree("x = " + typed, "value").ok()) return quoted(typed);
  return typed;
}

void change_key(State& state, const TableRef& table, const KeyText& key, const std::string& typed) {
  const std::string label(key.name);
  const std::string field = table.table + "." + label;
  const std::string& text = state.session->text();
  if (key.name == "name")
    state.apply(rename_part(text, table, without_quotes(typed)),
                "rename " + name_in(text, table) + " to " + without_quotes(typed), field);
  else if (typed.empty())
    state.apply(remove_key(text, table, key.name), "leave " + label + " out", field);
  else
    state.apply(set_key(text, table, key.name, as_value(key, typed)), "set " + label, field);
}

// One of a few words, or none.
void draw_words(State& state, const TableRef& table, const KeyText& key, const std::string& now) {
  const std::string field = table.table + "." + std::string(key.name);
  const std::string shown = now.empty() ? without_quotes(std::string(key.fallback)) : now;
  ImGui::SetNextItemWidth(-1);
  if (now.empty()) ImGui::PushStyleColor(ImGuiCol_Text, ink::kFaint);
  const bool open = open_list(("##" + field).c_str(), shown.c_str());
  if (now.empty()) ImGui::PopStyleColor();
  note_item("fields", field);
  if (!open) return;
  if (ImGui::Selectable("Leave it out", now.empty()) && !now.empty())
    change_key(state, table, key, "");
  for (const std::string& word : words_of(key))
    if (ImGui::Selectable(word.c_str(), word == now) && word != now)
      change_key(state, table, key, word);
  ImGui::EndCombo();
}

void draw_key(State& state, const TableRef& table, const KeyText& key) {
  const std::string field = table.table + "." + std::string(key.name);
  const std::string raw = state.raw_at(table, key.name);
  const std::string now = is_text(key) ? without_quotes(raw) : raw;
  ImGui::AlignTextToFramePadding();
  ImGui::TextUnformatted(key.name.data(), key.name.data() + key.name.size());
  if (ImGui::IsItemHovered()) {
    ImGui::BeginTooltip();
    ImGui::PushTextWrapPos(ImGui::GetFontSize() * 22);
    ImGui::TextUnformatted(std::string(key.meaning).c_str());
    wrapped_text(fmt::format("{}; left out: {}", key.type, key.fallback), ink::kFaint);
    ImGui::PopTextWrapPos();
    ImGui::EndTooltip();
  }
  ImGui::NextColumn();
  if (key.shape == ValueShape::kWord && !key.words.empty())
    draw_words(state, table, key, now);
  else if (typed_field(state, field, now, without_quotes(std::string(key.fallback)).c_str()))
    change_key(state, table, key, state.typed[field]);
  draw_told(state, field);
  ImGui::NextColumn();
}

// Its kinds as a list of words, the right one chosen.
template <class Rows>
void draw_kinds(State& state, const TableRef& table, const Rows& rows, std::string_view now) {
  const bool open = open_list("##kind", std::string(now).c_str());
  note_item("fields", "kind");
  if (!open) return;
  for (const auto& row : rows) {
    const std::string word(kind_word(row.kind));
    const bool chosen = ImGui::Selectable(word.c_str(), word == now);
    note_item("choices", word);
    if (chosen && word != now)
      state.apply(
          change_kind(state.session->text(), table, word, files_beside(state.session->path())),
          "make it " + std::string(row.one), "kind");
  }
  ImGui::EndCombo();
}

// With the part where it lies on no other, if there is room.
Result<std::string> laid_free(const State& state, const Result<std::string>& edited,
                              const PartId& part) {
  if (!edited.ok()) return edited;
  const std::string& path = state.session->path();
  const auto panel = parse_panel_beside(edited.value(), path, files_beside(path));
  if (!panel.ok()) return edited;
  const std::optional<Point> spot = free_spot(geometry_of(panel.value()->description), part);
  if (!spot) return edited;
  const FacePoint to{static_cast<std::int64_t>(std::lround(spot->x)) * 1'000,
                     static_cast<std::int64_t>(std::lround(spot->y)) * 1'000};
  return move_part(edited.value(), state.table_of(part), to);
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
  if (button("Duplicate")) {
    const PartId copy{part.output, static_cast<std::uint16_t>(part.index + 1)};
    const std::string& text = state.session->text();
    if (state.apply(laid_free(state, duplicate_part(text, table), copy),
                    "duplicate " + name_in(text, table)))
      state.selected = copy;
    return;
  }
  ImGui::SameLine();
  if (button("Remove")) return state.remove_selected();
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
    const bool chosen = ImGui::Selectable(std::string(row.one).c_str());
    note_item("choices", kind);
    if (!chosen) continue;
    const std::string name = free_name(state.session->text(), kind);
    const std::string& text = state.session->text();
    const PartId part{std::string_view(list) == "output",
                      static_cast<std::uint16_t>(count_blocks(text, list))};
    const auto added = add_part(text, {list, kind, name}, files_beside(state.session->path()));
    if (state.apply(laid_free(state, added, part), "add " + name)) state.selected = part;
  }
}

// Pale where there is nothing to do; what it would do is told under the hand.
bool step_button(const char* label, const std::string& what) {
  ImGui::BeginDisabled(what.empty());
  const bool pressed = button(label);
  ImGui::EndDisabled();
  if (!what.empty() && ImGui::IsItemHovered()) ImGui::SetTooltip("%s", what.c_str());
  return pressed;
}

}  // namespace

void Editor::draw_card(AreaContext& /*context*/) {
  State& state = *state_;
  if (!state.session) return;
  if (step_button("Undo", state.session->undo_name())) state.step(true);
  ImGui::SameLine();
  if (step_button("Redo", state.session->redo_name())) state.step(false);
  ImGui::SameLine();
  if (step_button("Save", unsaved() ? state.session->path() : "")) state.save();
  ImGui::SameLine();
  if (button("Add...")) ImGui::OpenPopup("##add");
  next_in_row(label_width("5 mm grid") + ImGui::GetFontSize());
  bool coarse = state.grid_mm == 5;
  if (tick_box("5 mm grid", coarse)) state.grid_mm = coarse ? 5 : 1;
  if (ImGui::BeginPopup("##add")) {
    draw_new(state, "control", control_kinds());
    ImGui::Separator();
    draw_new(state, "output", output_kinds());
    ImGui::EndPopup();
  }
  if (unsaved())
    wrapped_text("Not saved; the session plays the file as it was.", ink::kAmber);
  else
    wrapped_text("There is nothing to save.", ink::kFaint);
  if (state.told_at.empty()) draw_told(state, "");
  if (!state.session->preview()) {
    wrapped_text(state.session->wrong(), ink::kWrong);
    return;
  }
  if (state.selected)
    draw_selected(state);
  else
    wrapped_text("Choose a part on the face, or drag it to its place.", ink::kFaint);
}

}  // namespace understudy
