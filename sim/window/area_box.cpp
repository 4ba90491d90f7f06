// The area of the real box: where it is, whether it is there, who speaks to the game, and the words
// that change it.
#include <SDL_scancode.h>

#include <utility>

#include "sim/window/area_parts.h"
#include "sim/window/area_rows.h"

namespace understudy {
namespace {

void say(AreaContext& context, std::string words) {
  context.wishes.push_back(WordsWish{std::move(words)});
}

}  // namespace

void draw_box(AreaContext& context) {
  const SeatView& seat = context.view.seats[context.seat];
  const bool speaks = seat.source == SeatSource::kBox;
  ImGui::PushFont(context.type.typed);
  fitting_text(seat.box, ImGui::GetContentRegionAvail().x);
  ImGui::PopFont();
  if (seat.box_lost)
    wrapped_text("The box is not there. It is looked for; the game's port stays open.",
                 ink::kAmber);
  wrapped_text(
      speaks ? "The box speaks to the game. What a hand moves here is held in the box's place."
             : "The virtual box speaks to the game in the box's place.",
      speaks ? ink::kRight : ink::kAmber);
  const bool by_key = ImGui::GetIO().KeyCtrl && !ImGui::GetIO().WantTextInput &&
                      ImGui::IsKeyPressed(SDL_SCANCODE_B, false);
  if (press(speaks ? "Replace the box" : "Give the box its place back") || by_key)
    say(context, speaks ? "box out" : "box in");
  if (ImGui::IsItemHovered()) ImGui::SetTooltip("%s", "Ctrl+B");
  if (!speaks) return;
  next_in_row(label_width("Let go of everything"));
  if (press("Let go of everything")) say(context, "let go");
}

}  // namespace understudy
