// The column of areas: each an index card with its heading over a red rule, that folds, and whose
// height the hand drags. What is on a card is the area's own work.
#pragma once

#include <functional>
#include <span>
#include <string_view>

#include "sim/window/areas.h"
#include "sim/window/layout.h"

namespace understudy {

// A card that is there for the moment and belongs to no area: the panel's file, the editor.
struct PassingCard {
  std::string_view name;
  std::string_view heading;
  float usual_height = 200;  // in units
  std::function<void(AreaContext& context)> draw;
  std::function<void()> put_away;  // not empty: it can be closed, and this is told
};

// Draws the passing cards, then all areas that are wanted and not put away, one under the other,
// scrolling where they do not fit; draws into the current ImGui window, at `box`.
void draw_cards(AreaContext& context, std::span<const PassingCard> passing, const Box& box);

// Whether an area lies beside the face at all; "area.NAME.shown" in what is remembered.
bool is_shown(const Remembered& remembered, const Area& area);
void set_shown(Remembered& remembered, const Area& area, bool shown);

}  // namespace understudy
