// The area of supply: bars of ink against what pins, groups, chip and port may carry.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "sim/window/area_parts.h"
#include "sim/window/area_rows.h"
#include "sim/window/supply_rows.h"

namespace understudy {
namespace {

constexpr ImU32 kTrough = IM_COL32(236, 228, 209, 255);

ImU32 ink_of(const SupplyRow& row) {
  if (row.limit_ua > 0 && row.now_ua > row.limit_ua) return ink::kWrong;
  return row.caution.empty() ? ink::kFields[0] : ink::kAmber;
}

// The whole length is the limit; a tick stands at what is advised.
void draw_bar(const SupplyRow& row, float width, float unit) {
  const ImVec2 at = ImGui::GetCursorScreenPos();
  const float height = ImGui::GetTextLineHeight();
  ImGui::Dummy({width, height});
  if (row.limit_ua <= 0) return;
  ImDrawList& list = *ImGui::GetWindowDrawList();
  const float top = std::round(at.y + height * 0.28F);
  const float bottom = std::round(at.y + height * 0.78F);
  list.AddRectFilled({at.x, top}, {at.x + width, bottom}, kTrough, 2 * unit);
  const auto share_of = [&](std::int64_t ua) {
    const double share = static_cast<double>(ua) / static_cast<double>(row.limit_ua);
    return static_cast<float>(std::clamp(share, 0.0, 1.0));
  };
  if (row.now_ua > 0)
    list.AddRectFilled({at.x, top}, {at.x + std::max(unit, width * share_of(row.now_ua)), bottom},
                       ink_of(row), 2 * unit);
  if (row.advised_ua > 0 && row.advised_ua < row.limit_ua) {
    const float x = std::round(at.x + width * share_of(row.advised_ua));
    list.AddRectFilled({x, top - 2 * unit}, {x + std::max(1.0F, unit), bottom + 2 * unit},
                       ink::kFaint);
  }
}

void draw_row(const SupplyRow& row, float unit) {
  const float whole = ImGui::GetContentRegionAvail().x;
  const float left = ImGui::GetCursorPosX();
  const float name_width = std::min(150 * unit, whole * 0.34F);
  const std::string value =
      row.limit_ua > 0 && whole > 420 * unit
          ? fmt::format("{} of {}", milliamperes_text(row.now_ua), milliamperes_text(row.limit_ua))
          : milliamperes_text(row.now_ua);
  const float value_width = (whole > 420 * unit ? 140 : 72) * unit;
  fitting_text(row.name, name_width - 8 * unit);
  ImGui::SameLine(left + name_width);
  draw_bar(row, std::max(20 * unit, whole - name_width - value_width - 8 * unit), unit);
  if (ImGui::IsItemHovered()) {
    std::string words = row.name + ": " + milliamperes_text(row.now_ua);
    if (row.limit_ua > 0) words += ", at most " + milliamperes_text(row.limit_ua);
    if (row.advised_ua > 0) words += ", advised " + milliamperes_text(row.advised_ua);
    ImGui::SetTooltip("%s", words.c_str());
  }
  const float value_at = left + whole - ImGui::CalcTextSize(value.c_str()).x;
  ImGui::SameLine(value_at);
  fitting_text(value, 2 * value_width, row.caution.empty() ? ink::kText : ink_of(row));
  if (!row.caution.empty()) wrapped_text(row.caution, ink_of(row));
}

}  // namespace

void draw_supply(AreaContext& context) {
  const SeatView& seat = context.view.seats[context.seat];
  const SupplyRows rows = supply_rows(seat.device);
  const SeatHistory& history = context.history.seat(context.seat);
  const std::string volts =
      fmt::format("{:.2f} V at the chip", static_cast<double>(rows.voltage_uv) / 1e6);
  const bool low = rows.brown_out_uv > 0 && rows.voltage_uv < rows.brown_out_uv;
  fitting_text(volts, ImGui::GetContentRegionAvail().x, low ? ink::kWrong : ink::kText);
  if (history.restarts > 0) {
    std::string words =
        fmt::format("restarted {}", counted(static_cast<std::uint64_t>(history.restarts), "time"));
    if (history.brown_outs > 0)
      words += fmt::format(", {} because the supply gave way", history.brown_outs);
    next_in_row(ImGui::CalcTextSize(words.c_str()).x);
    fitting_text(words, ImGui::GetContentRegionAvail().x,
                 history.brown_outs > 0 ? ink::kAmber : ink::kFaint);
  }
  bool cautious = !rows.caution.empty();
  if (cautious) wrapped_text(rows.caution, ink::kWrong);
  for (const SupplyRow& row : rows.sums) draw_row(row, context.unit);
  if (!rows.outputs.empty()) ImGui::Separator();
  for (const SupplyRow& row : rows.outputs) draw_row(row, context.unit);
  for (const SupplyRow& row : rows.sums) cautious = cautious || !row.caution.empty();
  for (const SupplyRow& row : rows.outputs) cautious = cautious || !row.caution.empty();
  if (!cautious) return;
  ImGui::PushFont(context.type.small);
  wrapped_text(
      "These are estimates from the panel file. The data sheets of the parts, and somebody "
      "qualified, decide what is safe.",
      ink::kFaint);
  ImGui::PopFont();
}

}  // namespace understudy
