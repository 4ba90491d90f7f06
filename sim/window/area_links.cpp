// The area of links: where a game finds the panel, who is there, how it goes; and while nobody is
// there, what to type to come in.
#include <fmt/format.h>

#include <algorithm>

#include "sim/window/area_parts.h"
#include "sim/window/area_rows.h"
#include "sim/window/first_lines.h"
#include "sim/window/link_words.h"

namespace understudy {
namespace {

constexpr std::string_view kLanguage = "area.links.language";

ImU32 ink_of(Tone tone) {
  switch (tone) {
    case Tone::kGood:
      return ink::kRight;
    case Tone::kCaution:
      return ink::kAmber;
    case Tone::kPlain:
      break;
  }
  return ink::kText;
}

// Looked up once for each time that the link is opened.
const std::string& holders_of(AreaContext& context, const LinkView& link) {
  std::vector<HoldersSeen>& all = context.history.holders();
  auto seen = std::find_if(all.begin(), all.end(),
                           [&](const HoldersSeen& it) { return it.where == link.where; });
  if (seen == all.end()) seen = all.insert(all.end(), {.where = link.where, .words = ""});
  if (seen->opens == link.counts.opens && !seen->words.empty()) return seen->words;
  seen->opens = link.counts.opens;
  seen->words = game_at(link);
  return seen->words;
}

void draw_dot(bool open, float unit) {
  const ImVec2 at = ImGui::GetCursorScreenPos();
  const ImVec2 middle(at.x + 5 * unit, at.y + ImGui::GetTextLineHeight() * 0.55F);
  ImDrawList& list = *ImGui::GetWindowDrawList();
  if (open)
    list.AddCircleFilled(middle, 4 * unit, ink::kRight);
  else
    list.AddCircle(middle, 3.5F * unit, ink::kFaint, 0, std::max(1.0F, 1.2F * unit));
  ImGui::Dummy({14 * unit, 1});
  ImGui::SameLine();
}

void draw_link(AreaContext& context, const LinkView& link) {
  ImGui::PushID(link.where.c_str());
  draw_dot(link.open, context.unit);
  const float left = ImGui::GetCursorPosX();
  const std::string copy = "Copy##link";
  const float room = ImGui::GetContentRegionAvail().x - label_width(copy) - 12 * context.unit;
  ImGui::PushFont(context.type.typed);
  fitting_text(link.where, room);
  ImGui::PopFont();
  ImGui::SameLine();
  copy_label(copy.c_str(), link.where);
  ImGui::SetCursorPosX(left);
  const std::string state =
      link.open ? fmt::format("{}: {} is connected", link_kind(link), holders_of(context, link))
                : fmt::format("{}, nobody is connected", link_kind(link));
  fitting_text(state, ImGui::GetContentRegionAvail().x, link.open ? ink::kRight : ink::kFaint);
  ImGui::PopID();
}

void draw_facts(const AreaContext& context, const SeatView& seat) {
  const float column = ImGui::CalcTextSize("To the panel").x + 14 * context.unit;
  const float left = ImGui::GetCursorPosX();
  for (const LinkFact& fact : link_facts(seat, context.view.now)) {
    fitting_text(fact.about, column, ink::kFaint);
    ImGui::SameLine(left + column);
    wrapped_text(fact.text, ink_of(fact.tone));
  }
}

void draw_code(const AreaContext& context, const FirstLines& lines) {
  const float unit = context.unit;
  ImGui::PushFont(context.type.typed);
  const auto rows = static_cast<float>(1 + std::count(lines.code.begin(), lines.code.end(), '\n'));
  const float height =
      rows * ImGui::GetTextLineHeight() + 14 * unit + ImGui::GetStyle().ScrollbarSize;
  ImGui::PushStyleColor(ImGuiCol_ChildBg, IM_COL32(255, 253, 246, 255));
  ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding, {8 * unit, 6 * unit});
  ImGui::PushStyleVar(ImGuiStyleVar_ChildBorderSize, std::max(1.0F, unit));
  ImGui::BeginChild("##code", {0, height}, true, ImGuiWindowFlags_HorizontalScrollbar);
  ImGui::TextUnformatted(lines.code.c_str());
  ImGui::EndChild();
  ImGui::PopStyleVar(2);
  ImGui::PopStyleColor();
  ImGui::PopFont();
  wrapped_text(lines.hint, ink::kFaint);
  copy_label("Copy these lines", lines.code);
}

void draw_first_lines(AreaContext& context, const SeatView& seat) {
  ImGui::Separator();
  wrapped_text("To connect, type in your own language:");
  const std::string kept = remembered_text(context.remembered, kLanguage, "Python");
  const auto languages = first_line_languages();
  std::size_t chosen = languages.size();
  bool first = true;
  for (std::size_t i = 0; i < languages.size(); ++i) {
    if (!first_lines(i, seat)) continue;
    const std::string label = std::string(languages[i]);
    if (!first) next_in_row(label_width(label));
    first = false;
    if (chosen == languages.size() || kept == label) chosen = i;
    ImGui::PushID("language");  // "C#" and "##" would be read as one
    if (choice(label.c_str(), kept == label)) remember_text(context.remembered, kLanguage, label);
    ImGui::PopID();
  }
  if (chosen < languages.size()) draw_code(context, *first_lines(chosen, seat));
}

}  // namespace

void draw_links(AreaContext& context) {
  const SeatView& seat = context.view.seats[context.seat];
  for (const LinkView& link : seat.links) draw_link(context, link);
  draw_facts(context, seat);
  if (!context.view.environment.empty()) {
    if (press("Copy the environment for a game started by hand"))
      ImGui::SetClipboardText(context.view.environment.c_str());
    if (ImGui::IsItemHovered()) ImGui::SetTooltip("%s", context.view.environment.c_str());
  }
  if (!seat.observer.connected() && !seat.links.empty()) draw_first_lines(context, seat);
}

}  // namespace understudy
