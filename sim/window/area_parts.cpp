// Labels are drawn as slips of paper: an edge, and ink where they are chosen.
#include "sim/window/area_parts.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "sim/window/places.h"

namespace understudy {
namespace {

constexpr std::string_view kDots = "\xE2\x80\xA6";

std::string_view shown_part(std::string_view label) {
  return label.substr(0, label.find("##"));
}

ImVec2 size_of(std::string_view text) {
  return ImGui::CalcTextSize(text.data(), text.data() + text.size());
}

}  // namespace

std::string fitted(std::string_view text, float width) {
  if (size_of(text).x <= width) return std::string(text);
  const float room = width - size_of(kDots).x;
  std::size_t low = 0;
  std::size_t high = text.size();
  while (low < high) {
    const std::size_t middle = (low + high + 1) / 2;
    if (size_of(text.substr(0, middle)).x <= room)
      low = middle;
    else
      high = middle - 1;
  }
  // Never half of a letter of several bytes.
  while (low > 0 && low < text.size() && (static_cast<unsigned char>(text[low]) & 0xC0) == 0x80)
    --low;
  return std::string(text.substr(0, low)) + std::string(kDots);
}

std::string as_sentence(std::string text) {
  if (!text.empty() && text[0] >= 'a' && text[0] <= 'z')
    text[0] = static_cast<char>(text[0] - 'a' + 'A');
  if (!text.empty() && text.back() != '.') text += '.';
  return text;
}

bool fitting_text(std::string_view text, float width, ImU32 colour) {
  const std::string shown = fitted(text, width);
  ImGui::PushStyleColor(ImGuiCol_Text, colour);
  ImGui::TextUnformatted(shown.c_str(), shown.c_str() + shown.size());
  ImGui::PopStyleColor();
  const bool under = ImGui::IsItemHovered();
  if (under && shown != text) ImGui::SetTooltip("%.*s", static_cast<int>(text.size()), text.data());
  return under;
}

void wrapped_text(std::string_view text, ImU32 colour) {
  ImGui::PushStyleColor(ImGuiCol_Text, colour);
  ImGui::PushTextWrapPos(0);
  ImGui::TextUnformatted(text.data(), text.data() + text.size());
  ImGui::PopTextWrapPos();
  ImGui::PopStyleColor();
}

float label_width(std::string_view label) {
  return size_of(shown_part(label)).x + 2 * ImGui::GetStyle().FramePadding.x;
}

bool choice(const char* label, bool chosen, ImU32 colour) {
  ImGui::PushStyleVar(ImGuiStyleVar_FramePadding,
                      {ImGui::GetStyle().FramePadding.x, ImGui::GetStyle().FramePadding.y * 0.5F});
  ImGui::PushStyleColor(ImGuiCol_Text, chosen ? colour : ink::kFaint);
  if (!chosen) ImGui::PushStyleColor(ImGuiCol_Button, 0);
  ImGui::PushStyleColor(ImGuiCol_Border, chosen ? colour : ink::kEdge);
  const bool pressed = ImGui::Button(label);
  note_item("buttons", label);
  ImGui::PopStyleColor(chosen ? 2 : 3);
  ImGui::PopStyleVar();
  return pressed;
}

bool press(const char* label) {
  ImGui::PushStyleVar(ImGuiStyleVar_FramePadding,
                      {ImGui::GetStyle().FramePadding.x, ImGui::GetStyle().FramePadding.y * 0.5F});
  const bool pressed = ImGui::Button(label);
  note_item("buttons", label);
  ImGui::PopStyleVar();
  return pressed;
}

bool tick_box(const char* label, bool& ticked) {
  const std::string_view words = shown_part(label);
  const float size = ImGui::GetFontSize();
  const float side = std::round(size * 0.78F);
  const float inner = ImGui::GetStyle().ItemInnerSpacing.x;
  const float height = size + ImGui::GetStyle().FramePadding.y;
  const ImVec2 at = ImGui::GetCursorScreenPos();
  const bool pressed = ImGui::InvisibleButton(label, {side + inner + size_of(words).x, height});
  if (pressed) ticked = !ticked;
  note_item("buttons", label);
  ImDrawList& list = *ImGui::GetWindowDrawList();
  const float line = std::max(1.0F, std::round(size / 16));
  const ImVec2 top(at.x, std::round(at.y + (height - side) / 2));
  const ImVec2 end(top.x + side, top.y + side);
  const bool reached = ImGui::IsItemFocused() && ImGui::GetIO().NavVisible;
  const ImU32 edge = reached ? ink::kFields[0] : ImGui::IsItemHovered() ? ink::kText : ink::kFaint;
  list.AddRectFilled(top, end, IM_COL32(255, 253, 246, 255), line);
  list.AddRect(top, end, edge, line, 0, reached ? 2 * line : line);
  // As a pen ticks: it begins in the box and ends beyond it.
  const std::array<ImVec2, 3> tick = {ImVec2(top.x + side * 0.2F, top.y + side * 0.5F),
                                      ImVec2(top.x + side * 0.46F, top.y + side * 0.8F),
                                      ImVec2(top.x + side * 1.08F, top.y - side * 0.12F)};
  if (ticked) list.AddPolyline(tick.data(), 3, ink::kFields[0], 0, std::max(1.6F, size * 0.13F));
  list.AddText({end.x + inner, std::round(at.y + (height - size) / 2)}, ink::kText, words.data(),
               words.data() + words.size());
  return pressed;
}

bool open_list(const char* id, const char* shown) {
  const bool open = ImGui::BeginCombo(id, shown, ImGuiComboFlags_NoArrowButton);
  if (open) return true;
  const ImVec2 end = ImGui::GetItemRectMax();
  const float size = ImGui::GetFontSize();
  const ImVec2 tip(end.x - size * 0.8F, (ImGui::GetItemRectMin().y + end.y) / 2 + size * 0.14F);
  const std::array<ImVec2, 3> mark = {ImVec2(tip.x - size * 0.26F, tip.y - size * 0.26F), tip,
                                      ImVec2(tip.x + size * 0.26F, tip.y - size * 0.26F)};
  ImGui::GetWindowDrawList()->AddPolyline(mark.data(), 3, ink::kFaint, 0,
                                          std::max(1.2F, size * 0.09F));
  return false;
}

void next_in_row(float width) {
  const float right = ImGui::GetWindowPos().x + ImGui::GetWindowContentRegionMax().x;
  const float next = ImGui::GetItemRectMax().x + ImGui::GetStyle().ItemSpacing.x + width;
  if (next <= right) ImGui::SameLine();
}

void copy_label(const char* label, const std::string& text) {
  if (press(label)) ImGui::SetClipboardText(text.c_str());
}

std::string remembered_text(const Remembered& remembered, std::string_view name,
                            std::string_view usual) {
  const auto found = remembered.find(name);
  return found == remembered.end() ? std::string(usual) : found->second;
}

void remember_text(Remembered& remembered, std::string_view name, std::string text) {
  std::erase_if(text, [](char letter) { return static_cast<unsigned char>(letter) < 0x20; });
  remembered.insert_or_assign(std::string(name), std::move(text));
}

std::string counted(std::uint64_t count, std::string_view word) {
  return fmt::format("{} {}{}", count, word, count == 1 ? "" : "s");
}

}  // namespace understudy
