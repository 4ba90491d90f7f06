// Words of the watch, on paper.
#include "sim/window/flash_card.h"

#include <cmath>

#include "sim/window/area_parts.h"
#include "sim/window/places.h"
#include "sim/window/preferences.h"

namespace understudy {
namespace {

constexpr const char* kCalmly = "Show lamps calmly";

const std::vector<FlashCaution>& cautions_of(const AreaContext& context) {
  return context.history.seat(context.seat).flashes.cautions();
}

const PanelDescription& panel_of(const AreaContext& context) {
  return context.view.seats[context.seat].device.panel().description;
}

}  // namespace

bool flashes_too_often(const AreaContext& context) {
  return !cautions_of(context).empty();
}

void draw_flash_card(AreaContext& context) {
  for (const FlashCaution& caution : cautions_of(context))
    wrapped_text(as_sentence(words_of(caution, panel_of(context))), ink::kWrong);
  wrapped_text("The lamps of a real box flash no less: have people look away, or switch it off.",
               ink::kFaint);
  const bool calm = lamps_are_calm(context.remembered);
  if (press(calm ? "Show lamps as they are" : kCalmly))
    remember_flag(context.remembered, kCalmLamps, !calm);
  note_item("buttons", kCalmly);
}

void draw_flash_slip(const AreaContext& context, const Box& face) {
  const float unit = context.unit;
  const float inset = 10 * unit;
  ImFont* font = context.type.text;
  const std::string text =
      fitted(as_sentence(words_of(cautions_of(context).front(), panel_of(context))),
             std::max(0.0F, face.width() - 4 * inset));
  const float height = font->FontSize + inset;
  const ImVec2 at(face.left + inset, std::round(face.bottom - inset - height));
  const ImVec2 end(face.right - inset, at.y + height);
  ImDrawList& list = *ImGui::GetWindowDrawList();
  list.AddRectFilled(at, end, ink::kCard);
  list.AddRect(at, end, ink::kWrong);
  list.AddText(font, font->FontSize, {at.x + inset, std::round(at.y + inset / 2)}, ink::kWrong,
               text.c_str());
  note_place("texts", "flashing", at, end);
}

bool lamps_are_calm(const Remembered& remembered) {
  return remembered_flag(remembered, kCalmLamps, false);
}

void draw_calm_choice(Remembered& remembered) {
  bool calm = lamps_are_calm(remembered);
  if (tick_box(kCalmly, calm)) remember_flag(remembered, kCalmLamps, calm);
  if (ImGui::IsItemHovered())
    ImGui::SetTooltip("Each lamp as bright as it is on average over the last second.");
}

}  // namespace understudy
