// Words are buttons without a frame; the one under the hand is underlined in ink, one that is on
// twice as strong.
#include "sim/window/top_strip.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "sim/window/area_parts.h"
#include "sim/window/cards.h"
#include "sim/window/flash_card.h"
#include "sim/window/places.h"

namespace understudy {
namespace {

constexpr const char* kFileWords[] = {"Open...", "Edit"};
constexpr const char* kWords[] = {"Areas", "Keep on top", "Compact"};

bool word(const char* label, bool on, float unit) {
  ImGui::PushStyleColor(ImGuiCol_Button, 0);
  ImGui::PushStyleColor(ImGuiCol_ButtonHovered, 0);
  ImGui::PushStyleColor(ImGuiCol_ButtonActive, IM_COL32(120, 100, 60, 30));
  ImGui::PushStyleVar(ImGuiStyleVar_FrameBorderSize, 0);
  const bool pressed = ImGui::Button(label);
  ImGui::PopStyleVar();
  ImGui::PopStyleColor(3);
  note_item("buttons", label);
  if (on || ImGui::IsItemHovered()) {
    const ImVec2 least = ImGui::GetItemRectMin();
    const ImVec2 most = ImGui::GetItemRectMax();
    const float pad = ImGui::GetStyle().FramePadding.x;
    const float y = std::round(most.y - 3 * unit);
    ImGui::GetWindowDrawList()->AddRectFilled(
        {least.x + pad, y}, {most.x - pad, y + std::round((on ? 2.0F : 1.0F) * unit)},
        on ? ink::kWrong : ink::kFaint);
  }
  return pressed;
}

float width_of(const char* label) {
  return ImGui::CalcTextSize(label).x + 2 * ImGui::GetStyle().FramePadding.x;
}

float words_width(const StripState& state) {
  float width = 0;
  for (const char* label : kWords) width += width_of(label);
  if (!state.files) return width;
  for (const char* label : kFileWords) width += width_of(label);
  return width;
}

// As fitted(), in a typeface.
std::string fitted_in(ImFont& font, std::string_view text, float width) {
  ImGui::PushFont(&font);
  std::string shown = fitted(text, width);
  ImGui::PopFont();
  return shown;
}

// A drop of ink: filled while a game is connected, a ring while none is.
void draw_drop(ImDrawList& list, ImVec2 middle, float reach, bool connected) {
  if (connected) {
    list.AddCircleFilled(middle, reach, ink::kRight, 20);
  } else {
    list.AddCircle(middle, reach - 0.5F, ink::kFaint, 20, std::max(1.0F, reach * 0.3F));
  }
}

void draw_title(const AreaContext& context, const Box& box, float right) {
  const float unit = context.unit;
  ImDrawList& list = *ImGui::GetWindowDrawList();
  const SeatView& seat = context.view.seats[context.seat];
  ImFont* heading = context.type.heading;
  float x = box.left + 16 * unit;
  const float middle = (box.top + box.bottom) / 2;
  const std::string name = fitted_in(*heading, seat.device.panel().description.name,
                                     std::max(0.0F, (right - x) * 0.45F));
  list.AddText(heading, heading->FontSize, {x, std::round(middle - heading->FontSize / 2)},
               ink::kText, name.c_str());
  x += heading->CalcTextSizeA(heading->FontSize, FLT_MAX, 0, name.c_str()).x + 18 * unit;
  if (right - x < 80 * unit) return;
  const bool connected =
      std::any_of(seat.links.begin(), seat.links.end(), [](const auto& link) { return link.open; });
  draw_drop(list, {x + 4 * unit, middle + unit}, 4 * unit, connected);
  x += 14 * unit;
  ImFont* font = context.type.text;
  const std::string state =
      fitted_in(*font, connection_text(context.view, context.seat), right - x);
  list.AddText(font, font->FontSize, {x, std::round(middle - font->FontSize / 2)}, ink::kFaint,
               state.c_str());
  note_place("texts", "connection", {x, box.top}, {right, box.bottom});
}

void draw_areas_menu(AreaContext& context, const StripState& state, StripOrders& orders) {
  bool beside = state.beside;
  if (tick_box("Show the areas", beside)) orders.beside = true;
  ImGui::Separator();
  for (const Area& area : areas()) {
    if (area.wanted != nullptr && !area.wanted(context.view)) continue;
    bool shown = is_shown(context.remembered, area);
    const std::string heading(area.heading);
    if (tick_box(heading.c_str(), shown)) set_shown(context.remembered, area, shown);
  }
  ImGui::Separator();
  draw_calm_choice(context.remembered);
}

}  // namespace

bool menu_word(const char* label, bool chosen) {
  const bool pressed = ImGui::MenuItem(label, nullptr, chosen);
  note_item("buttons", label);
  return pressed;
}

std::string connection_text(const SessionView& view, std::size_t seat) {
  const SeatView& shown = view.seats[seat];
  std::string open;
  std::string waiting;
  for (const LinkView& link : shown.links) {
    std::string& text = link.open ? open : waiting;
    text += (text.empty() ? ""
             : link.open  ? " and "
                          : " or ") +
            (!link.open           ? link.where
             : link.name == "pty" ? "serial port"
                                  : "TCP");
  }
  if (view.timeline) return view.timeline->whole->file;
  if (!open.empty()) {
    const double rate = shown.observer.traffic_to_game().lines_per_second(view.now);
    return fmt::format("Connected by {}, {:.0f} lines/s", open, rate);
  }
  if (view.game.state == GameState::kEnded) return "The game " + view.game.ended;
  if (waiting.empty()) return "Played without a game";
  return "Waiting for a game at " + waiting;
}

StripOrders draw_strip(AreaContext& context, const Box& box, const StripState& state) {
  const float unit = context.unit;
  ImDrawList& list = *ImGui::GetWindowDrawList();
  list.AddRectFilled(box.at(), {box.right, box.bottom}, IM_COL32(236, 227, 207, 255));
  list.AddRectFilled({box.left, box.bottom - 1}, {box.right, box.bottom}, ink::kEdge);
  StripOrders orders;
  const float words = words_width(state);
  const float left = box.right - words - 10 * unit;
  draw_title(context, box, left - 16 * unit);
  const float height = ImGui::GetFrameHeight();
  ImGui::SetCursorScreenPos(
      {std::max(box.left, left), std::round((box.top + box.bottom - height) / 2)});
  if (state.files) {
    orders.open = word("Open...", false, unit);
    ImGui::SameLine(0, 0);
    orders.edit = word("Edit", state.editing, unit);
    ImGui::SameLine(0, 0);
  }
  if (word("Areas", false, unit)) ImGui::OpenPopup("##areas menu");
  const ImVec2 below(ImGui::GetItemRectMin().x, box.bottom);
  ImGui::SameLine(0, 0);
  orders.on_top = word("Keep on top", state.on_top, unit);
  ImGui::SameLine(0, 0);
  orders.compact = word("Compact", false, unit);
  ImGui::SetNextWindowPos(below);
  if (ImGui::BeginPopup("##areas menu")) {
    draw_areas_menu(context, state, orders);
    ImGui::EndPopup();
  }
  return orders;
}

StripOrders draw_strip_menu(AreaContext& context, const StripState& state) {
  StripOrders orders;
  if (state.files) {
    orders.open = menu_word("Open...");
    orders.edit = menu_word("Edit", state.editing);
  }
  orders.on_top = menu_word("Keep on top", state.on_top);
  orders.compact = menu_word("Compact");
  ImGui::Separator();
  draw_areas_menu(context, state, orders);
  return orders;
}

}  // namespace understudy
