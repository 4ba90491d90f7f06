// The caution while a game flashes lamps too often for some eyes: a card on top of the areas, or a
// slip at the foot of the face where no areas are shown; and the choice to see lamps calmly. When
// there is a caution stands in flash_watch.h. Nothing here flashes.
#pragma once

#include "sim/window/areas.h"
#include "sim/window/layout.h"

namespace understudy {

// Whether lamps of the seat on the face flash too often, or did a moment ago.
bool flashes_too_often(const AreaContext& context);
// The sentences and the choice, as a card.
void draw_flash_card(AreaContext& context);
// The first of them in short, at the foot of `face`.
void draw_flash_slip(const AreaContext& context, const Box& face);

// The choice, which is remembered: lamps as bright as they are on average over the last second.
bool lamps_are_calm(const Remembered& remembered);
// A box to tick, for menus.
void draw_calm_choice(Remembered& remembered);

}  // namespace understudy
