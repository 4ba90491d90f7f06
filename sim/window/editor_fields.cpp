// What is typed stays in the state until it is what the text says.
#include "sim/window/editor_fields.h"

#include <imgui.h>
#include <imgui_stdlib.h>

#include <cmath>

#include "sim/window/area_parts.h"
#include "sim/window/places.h"

namespace understudy {

bool button(const char* label) {
  const bool pressed = ImGui::Button(label);
  note_item("buttons", label);
  return pressed;
}

bool small_button(const std::string& label, const std::string& noted) {
  // Low, but with room for descenders.
  const ImVec2 pad = ImGui::GetStyle().FramePadding;
  ImGui::PushStyleVar(ImGuiStyleVar_FramePadding, {pad.x, std::floor(pad.y / 2)});
  const bool pressed = ImGui::Button(label.c_str());
  ImGui::PopStyleVar();
  note_item("buttons", noted);
  return pressed;
}

bool typed_field(Editor::State& state, const std::string& field, const std::string& now,
                 const char* hint) {
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

void draw_told(const Editor::State& state, const std::string& field) {
  if (state.told_at == field && !state.told.empty()) wrapped_text(state.told, ink::kWrong);
}

}  // namespace understudy
