// The area of what was said: sentences about links, game and board.
#include <fmt/format.h>

#include "sim/window/area_parts.h"
#include "sim/window/area_rows.h"
#include "sim/window/preferences.h"

namespace understudy {
namespace {

void draw_said(const AreaContext& context, const SaidWord& said) {
  const float column = ImGui::CalcTextSize("0:00:00").x + 14 * context.unit;
  const std::string time = time_of_line(said.at);
  const std::string shown = time.substr(0, time.size() - 4);
  ImGui::TextDisabled("%s", shown.c_str());
  if (ImGui::IsItemHovered()) ImGui::SetTooltip("%s", time.c_str());
  ImGui::SameLine(ImGui::GetWindowContentRegionMin().x + column);
  std::string text = as_sentence(said.text);
  if (said.times > 1) text += fmt::format(" ({} times)", said.times);
  if (context.view.seats.size() > 1 && said.seat < context.view.seats.size())
    text = context.view.seats[said.seat].name + ": " + text;
  wrapped_text(text);
}

}  // namespace

void draw_words(AreaContext& context) {
  const auto& words = context.history.words();
  if (context.history.lost() > 0)
    wrapped_text("The window was too slow for " + counted(context.history.lost(), "event") +
                     "; the session was not held up.",
                 ink::kAmber);
  if (words.empty()) wrapped_text("Nothing to report.", ink::kFaint);
  // Newest first, and no more than anybody reads: sentences wrap, so rows have no one height.
  constexpr std::size_t kShownMax = 60;
  std::size_t shown = 0;
  for (auto it = words.rbegin(); it != words.rend() && shown < kShownMax; ++it, ++shown)
    draw_said(context, *it);
  if (words.empty()) return;
  if (press("Copy all##words")) {
    std::string text;
    for (const SaidWord& said : words) text += time_of_line(said.at) + "  " + said.text + "\n";
    ImGui::SetClipboardText(text.c_str());
  }
}

}  // namespace understudy
