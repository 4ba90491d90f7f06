// The area of what was said: sentences about links, game and board, and a caution on top while
// lamps flash too often for some eyes.
#include <fmt/format.h>

#include "sim/window/area_parts.h"
#include "sim/window/area_rows.h"

namespace understudy {
namespace {

// As a sentence stands on paper.
std::string as_sentence(std::string text) {
  if (!text.empty() && text[0] >= 'a' && text[0] <= 'z')
    text[0] = static_cast<char>(text[0] - 'a' + 'A');
  if (!text.empty() && text.back() != '.') text += '.';
  return text;
}

void draw_cautions(AreaContext& context) {
  const FlashWatch& flashes = context.history.seat(context.seat).flashes;
  const PanelDescription& panel = context.view.seats[context.seat].device.panel().description;
  for (const FlashCaution& caution : flashes.cautions()) {
    const ImVec2 at = ImGui::GetCursorScreenPos();
    ImGui::Indent(10 * context.unit);
    wrapped_text(as_sentence(words_of(caution, panel)), ink::kWrong);
    ImGui::Unindent(10 * context.unit);
    ImGui::GetWindowDrawList()->AddRectFilled(
        {at.x, at.y}, {at.x + 3 * context.unit, ImGui::GetItemRectMax().y}, ink::kWrong);
  }
}

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
  draw_cautions(context);
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
