// The card "Panel file": which file is played, its mistakes at their places, and opening another.
#include <fmt/format.h>
#include <imgui.h>
#include <imgui_stdlib.h>

#include <algorithm>
#include <cmath>

#include "sim/window/area_parts.h"
#include "sim/window/mistake_text.h"
#include "sim/window/panel_files_state.h"
#include "sim/window/path_completion.h"
#include "sim/window/places.h"

namespace understudy {
namespace {

void draw_state(const AreaContext& context, const FileReport& report) {
  ImGui::PushFont(context.type.typed);
  ImGui::TextWrapped("%s", report.path.empty() ? "No file" : report.path.c_str());
  ImGui::PopFont();
  switch (report.state) {
    case FileState::kPlayed:
      wrapped_text(report.mended ? "The file is right again, and its panel is played."
                                 : "Read again whenever it changes.",
                   report.mended ? ink::kRight : ink::kFaint);
      break;
    case FileState::kWrong: {
      const std::size_t count = report.mistakes.size();
      wrapped_text(fmt::format("The file has {}; the panel as it was before goes on.",
                               count == 1 ? "a mistake" : std::to_string(count) + " mistakes"),
                   ink::kWrong);
      break;
    }
    case FileState::kGone:
      wrapped_text(fmt::format("The panel goes on without its file: {}.", report.reason),
                   ink::kAmber);
      break;
  }
}

}  // namespace

void draw_mistake(const AreaContext& context, const PlacedMistake& mistake) {
  ImDrawList& list = *ImGui::GetWindowDrawList();
  ImFont* typed = context.type.typed;
  if (mistake.line > 0) {
    // The line as it stands in the file, what is meant underlined in red.
    const std::string number = std::to_string(mistake.line);
    const ImVec2 at = ImGui::GetCursorScreenPos();
    const auto width = [typed](std::string_view text) {
      return typed
          ->CalcTextSizeA(typed->FontSize, FLT_MAX, 0, text.data(), text.data() + text.size())
          .x;
    };
    const float room = ImGui::GetContentRegionAvail().x;
    const float left = at.x + std::max(width("000"), width(number)) + 10 * context.unit;
    list.AddText(typed, typed->FontSize, at, ink::kFaint, number.c_str());
    const auto [shown, before, marked] = shown_part(
        mistake, [&](std::string_view text) { return left + width(text) <= at.x + room; });
    list.AddText(typed, typed->FontSize, {left, at.y}, ink::kText, shown.c_str());
    const float from = left + width(before);
    const float to = std::max(from + width(marked), from + 5 * context.unit);
    const float y = std::round(at.y + typed->FontSize + context.unit);
    const float step = 2.5F * context.unit;  // a pen's wave
    for (float x = from; x < to; x += 2 * step) {
      list.AddBezierQuadratic({x, y}, {x + step / 2, y - step}, {x + step, y}, ink::kWrong,
                              1.2F * context.unit, 4);
      list.AddBezierQuadratic({x + step, y}, {x + step * 1.5F, y + step}, {x + 2 * step, y},
                              ink::kWrong, 1.2F * context.unit, 4);
    }
    ImGui::Dummy({room, typed->FontSize + 5 * context.unit});
  }
  wrapped_text(mistake.key.empty() ? mistake.message : mistake.key + ": " + mistake.message,
               ink::kWrong);
  if (!mistake.remedy.empty()) wrapped_text(mistake.remedy, ink::kFaint);
  ImGui::Dummy({1, 3 * context.unit});
}

namespace {

void draw_mistakes(const AreaContext& context, const std::vector<PlacedMistake>& mistakes) {
  for (const PlacedMistake& mistake : mistakes) draw_mistake(context, mistake);
}

// Tab completes as far as it is certain; the state is the field's.
int complete_path(ImGuiInputTextCallbackData* data) {
  const std::string typed(data->Buf, static_cast<std::size_t>(data->BufTextLen));
  const std::string shared = shared_beginning(path_completions(typed));
  if (shared.size() > typed.size()) {
    data->DeleteChars(0, data->BufTextLen);
    data->InsertChars(0, shared.c_str());
  }
  return 0;
}

}  // namespace

void PanelFiles::draw_card(AreaContext& context,
                           const std::function<bool(std::string path)>& before_open) {
  State& state = *state_;
  const auto wanted = [&](const std::string& path) {
    if (path.empty() || (before_open && !before_open(path))) return;
    open(context.seat, path);
  };
  if (context.seat < state.seats.size()) {
    const FileReport& report = state.seats[context.seat].report;
    draw_state(context, report);
    draw_mistakes(context, report.mistakes);
  }
  if (!state.refused.empty()) {
    ImGui::Separator();
    wrapped_text(state.refused, ink::kWrong);
    draw_mistakes(context, state.refused_mistakes);
  }
  ImGui::Dummy({1, 2 * context.unit});
  ImGui::SetNextItemWidth(ImGui::GetContentRegionAvail().x - 76 * context.unit);
  const bool entered = ImGui::InputTextWithHint(
      "##path", "Path of a panel file", &state.typed,
      ImGuiInputTextFlags_EnterReturnsTrue | ImGuiInputTextFlags_CallbackCompletion, complete_path);
  note_item("fields", "Path");
  const bool typing = ImGui::IsItemActive();
  if (ImGui::IsItemEdited() || ImGui::IsItemActivated())
    state.completions = path_completions(state.typed);
  ImGui::SameLine();
  if (ImGui::Button("Open") || entered) wanted(state.typed);
  note_item("buttons", "Open");
  // What is being typed, else what was opened before.
  const bool begun = typing && !state.typed.empty();
  for (const std::string& path : begun ? state.completions : state.recent) {
    ImGui::PushFont(context.type.small);
    const bool chosen = ImGui::Selectable(path.c_str());
    note_item("recent", path);
    ImGui::PopFont();
    if (!chosen) continue;
    if (path.ends_with('/')) {
      state.typed = path;
      state.completions = path_completions(path);
    } else {
      wanted(path);
    }
  }
}

}  // namespace understudy
