// The area of the game's output: what it printed, and starting and stopping it.
#include <fmt/format.h>

#include "sim/window/area_parts.h"
#include "sim/window/area_rows.h"

namespace understudy {
namespace {

std::string state_text(const GameView& game) {
  switch (game.state) {
    case GameState::kNone:
      return "";
    case GameState::kRunning:
      return fmt::format("runs, process {}", game.pid);
    case GameState::kEnded:
      return game.ended;
  }
  return "";
}

std::string printed_text(const History& history) {
  std::string text;
  for (const GameLineSeen& line : history.game_lines()) text += line.text + "\n";
  return text;
}

void draw_orders(AreaContext& context) {
  const bool runs = context.view.game.state == GameState::kRunning;
  if (press(runs ? "Restart##game" : "Start##game"))
    context.wishes.emplace_back(GameWish{GameOrder::kStart});
  if (runs) {
    next_in_row(label_width("Stop"));
    if (press("Stop##game")) context.wishes.emplace_back(GameWish{GameOrder::kStop});
  }
  next_in_row(label_width("Copy"));
  if (press("Copy##game")) ImGui::SetClipboardText(printed_text(context.history).c_str());
}

}  // namespace

void draw_game_output(AreaContext& context) {
  const GameView& game = context.view.game;
  draw_orders(context);
  next_in_row(120 * context.unit);
  const bool wrong = game.state == GameState::kEnded && !game.ended_well;
  const bool runs = game.state == GameState::kRunning;
  fitting_text(state_text(game), ImGui::GetContentRegionAvail().x,
               wrong  ? ink::kWrong
               : runs ? ink::kRight
                      : ink::kFaint);
  ImGui::PushFont(context.type.typed);
  fitting_text(game.command, ImGui::GetContentRegionAvail().x, ink::kFaint);
  ImGui::BeginChild("##printed", {0, 0}, false, ImGuiWindowFlags_HorizontalScrollbar);
  const bool at_end = ImGui::GetScrollY() >= ImGui::GetScrollMaxY() - 1;
  const auto& lines = context.history.game_lines();
  ImGuiListClipper clipper;
  clipper.Begin(static_cast<int>(lines.size()));
  while (clipper.Step()) {
    for (int i = clipper.DisplayStart; i < clipper.DisplayEnd; ++i) {
      const GameLineSeen& line = lines[static_cast<std::size_t>(i)];
      ImGui::PushStyleColor(ImGuiCol_Text, line.error ? ink::kWrong : ink::kText);
      ImGui::TextUnformatted(line.text.c_str(), line.text.c_str() + line.text.size());
      ImGui::PopStyleColor();
    }
  }
  if (lines.empty()) ImGui::TextDisabled("It has printed nothing yet.");
  if (at_end) ImGui::SetScrollHereY(1.0F);
  ImGui::EndChild();
  ImGui::PopFont();
}

}  // namespace understudy
