// Heights come from what is remembered; what room is left over is shared out among open cards.
#include "sim/window/cards.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <vector>

#include "sim/window/paper.h"
#include "sim/window/places.h"
#include "sim/window/preferences.h"

namespace understudy {
namespace {

constexpr float kHeadingUnits = 32;
constexpr float kGapUnits = 12;
constexpr float kGripUnits = 7;
constexpr float kLeastUnits = 60;
constexpr float kMostUnits = 2'000;

std::string key_of(std::string_view name, std::string_view what) {
  return fmt::format("area.{}.{}", name, what);
}

struct Card {
  std::string_view name;
  std::string_view heading;
  const Area* area = nullptr;
  const PassingCard* passing = nullptr;
  bool open = false;
  float height = 0;  // of its content, pixels

  void draw(AreaContext& context) const {
    area != nullptr ? area->draw(context) : passing->draw(context);
  }
};

struct UsualCard {
  float height = 0;
  bool open = true;
};

void open_or_fold(Card& card, const AreaContext& context, const UsualCard& usual) {
  card.open = remembered_flag(context.remembered, key_of(card.name, "open"), usual.open);
  if (!card.open) return;
  const NumberRange range = {.least = kLeastUnits, .most = kMostUnits, .usual = usual.height};
  const double units = remembered_number(context.remembered, key_of(card.name, "height"), range);
  card.height = std::round(static_cast<float>(units) * context.unit);
}

// What room is left over goes to the areas that are open, by their heights.
void share_out(std::vector<Card>& cards, float room, float unit) {
  float used = kGapUnits * unit;
  float open = 0;
  for (const Card& card : cards) {
    used += std::round(kHeadingUnits * unit) + kGapUnits * unit + card.height;
    if (card.area != nullptr) open += card.height;
  }
  if (room <= used || open <= 0) return;
  for (Card& card : cards) {
    if (card.area != nullptr) card.height += std::floor((room - used) * card.height / open);
  }
}

std::vector<Card> cards_of(const AreaContext& context, std::span<const PassingCard> passing,
                           float room) {
  std::vector<Card> cards;
  for (const PassingCard& one : passing) {
    Card card = {.name = one.name, .heading = one.heading, .passing = &one};
    open_or_fold(card, context, {.height = one.usual_height});
    cards.push_back(card);
  }
  for (const bool first : {true, false}) {
    for (const Area& area : areas()) {
      const bool matters = area.first != nullptr && area.first(context.view, context.seat);
      if (matters != first || !is_shown(context.remembered, area)) continue;
      if (area.wanted != nullptr && !area.wanted(context.view)) continue;
      Card card = {.name = area.name, .heading = area.heading, .area = &area};
      const float height = area.usual_height * (first ? 2.3F : 1.0F);
      open_or_fold(card, context, {.height = height, .open = area.usually_open});
      cards.push_back(card);
    }
  }
  share_out(cards, room, context.unit);
  return cards;
}

// A small triangle of ink: pointing down while the card is open.
void draw_fold_mark(ImDrawList& list, ImVec2 middle, float reach, bool open) {
  if (open) {
    list.AddTriangleFilled({middle.x - reach, middle.y - reach * 0.6F},
                           {middle.x + reach, middle.y - reach * 0.6F},
                           {middle.x, middle.y + reach * 0.7F}, ink::kFaint);
  } else {
    list.AddTriangleFilled({middle.x - reach * 0.6F, middle.y - reach},
                           {middle.x + reach * 0.7F, middle.y},
                           {middle.x - reach * 0.6F, middle.y + reach}, ink::kFaint);
  }
}

void draw_cross(ImDrawList& list, ImVec2 middle, float reach) {
  const ImU32 colour = ImGui::IsItemHovered() ? ink::kText : ink::kFaint;
  const float thickness = reach * 0.4F;
  list.AddLine({middle.x - reach, middle.y - reach}, {middle.x + reach, middle.y + reach}, colour,
               thickness);
  list.AddLine({middle.x - reach, middle.y + reach}, {middle.x + reach, middle.y - reach}, colour,
               thickness);
}

void draw_heading(AreaContext& context, const Card& card, const Box& box) {
  const float unit = context.unit;
  ImDrawList& list = *ImGui::GetWindowDrawList();
  ImGui::SetCursorScreenPos(box.at());
  const bool closes = card.passing != nullptr && card.passing->put_away;
  const float close_width = closes ? kHeadingUnits * unit : 0;
  // A button, so that the keyboard reaches it and shows that it does.
  ImGui::PushStyleColor(ImGuiCol_Button, 0);
  ImGui::PushStyleColor(ImGuiCol_ButtonHovered, 0);
  ImGui::PushStyleColor(ImGuiCol_ButtonActive, 0);
  ImGui::PushStyleVar(ImGuiStyleVar_FrameBorderSize, 0);
  if (ImGui::Button("##heading", {box.width() - close_width, kHeadingUnits * unit})) {
    remember_flag(context.remembered, key_of(card.name, "open"), !card.open);
  }
  const bool under_hand = ImGui::IsItemHovered();
  note_item("cards", card.heading);
  if (closes) {
    ImGui::SameLine(0, 0);
    if (ImGui::Button("##put away", {close_width, kHeadingUnits * unit})) card.passing->put_away();
    draw_cross(list, {box.right - close_width / 2, box.top + kHeadingUnits * unit / 2}, 4 * unit);
    note_item("closes", card.heading);
  }
  ImGui::PopStyleVar();
  ImGui::PopStyleColor(3);
  const float middle = box.top + kHeadingUnits * unit / 2;
  ImFont* font = context.type.heading;
  const std::string_view text = card.heading;
  list.AddText(font, font->FontSize,
               {box.left + 12 * unit, std::round(middle - font->FontSize / 2)}, ink::kText,
               text.data(), text.data() + text.size());
  draw_fold_mark(list, {box.right - close_width - 16 * unit, middle},
                 (under_hand ? 5.5F : 4.5F) * unit, card.open);
  if (card.open) {
    const float rule = std::round(box.top + kHeadingUnits * unit) - 1;
    list.AddRectFilled({box.left + 1, rule}, {box.right - 1, rule + std::max(1.0F, unit)},
                       ink::kMargin);
  }
}

// The lower edge, which the hand drags.
void draw_grip(AreaContext& context, const Card& card, const Box& box) {
  const float unit = context.unit;
  ImGui::SetCursorScreenPos({box.left, box.bottom - kGripUnits * unit});
  ImGui::InvisibleButton("##grip", {box.width(), kGripUnits * unit});
  const bool held = ImGui::IsItemActive();
  if (held || ImGui::IsItemHovered()) {
    ImGui::SetMouseCursor(ImGuiMouseCursor_ResizeNS);
    const float middle = (box.left + box.right) / 2;
    const float y = std::round(box.bottom - 3 * unit);
    ImGui::GetWindowDrawList()->AddRectFilled({middle - 18 * unit, y - unit},
                                              {middle + 18 * unit, y}, ink::kFaint);
  }
  if (held && ImGui::GetIO().MouseDelta.y != 0) {
    const float dragged = (card.height + ImGui::GetIO().MouseDelta.y) / unit;
    remember_number(context.remembered, key_of(card.name, "height"),
                    std::clamp(dragged, kLeastUnits, kMostUnits));
  }
}

void draw_content(AreaContext& context, const Card& card, const Box& box) {
  const float unit = context.unit;
  const float top = box.top + std::round(kHeadingUnits * unit) + 1;
  ImGui::SetCursorScreenPos({box.left + 1, top});
  ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding, {11 * unit, 7 * unit});
  const bool seen =
      ImGui::BeginChild("##content", {box.width() - 2, box.bottom - top - kGripUnits * unit}, false,
                        ImGuiWindowFlags_AlwaysUseWindowPadding);
  ImGui::PopStyleVar();
  if (seen) card.draw(context);
  ImGui::EndChild();
}

}  // namespace

bool is_shown(const Remembered& remembered, const Area& area) {
  return remembered_flag(remembered, key_of(area.name, "shown"), true);
}

void set_shown(Remembered& remembered, const Area& area, bool shown) {
  remember_flag(remembered, key_of(area.name, "shown"), shown);
}

void draw_cards(AreaContext& context, std::span<const PassingCard> passing, const Box& box) {
  const float unit = context.unit;
  ImGui::SetCursorScreenPos(box.at());
  ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding, {0, 0});
  ImGui::BeginChild("##areas", box.size(), false);
  ImGui::PopStyleVar();
  const ImVec2 origin = ImGui::GetCursorScreenPos();
  const float gap = kGapUnits * unit;
  const float width = ImGui::GetContentRegionAvail().x;
  float top = origin.y + gap;
  for (const Card& card : cards_of(context, passing, box.height())) {
    const Box lies = {origin.x + gap / 3, top, origin.x + width - gap,
                      top + std::round(kHeadingUnits * unit) + card.height};
    draw_card(*ImGui::GetWindowDrawList(), lies, unit);
    note_place("cards", card.name, lies.at(), {lies.right, lies.bottom});
    ImGui::PushID(card.name.data(), card.name.data() + card.name.size());
    draw_heading(context, card, lies);
    if (card.open) {
      draw_content(context, card, lies);
      draw_grip(context, card, lies);
    }
    ImGui::PopID();
    top = lies.bottom + gap;
  }
  ImGui::SetCursorScreenPos({origin.x, top});
  ImGui::Dummy({1, 1});
  ImGui::EndChild();
}

}  // namespace understudy
