// The invitation swells and fades once in six seconds: slow enough to be no flashing, and enough to
// catch an eye from the side.
#include "scenarios/tram/game/scene/invitation.h"

#include <cmath>

namespace understudy::tram {

namespace {

constexpr int kWidth = 480;
constexpr int kHeight = 128;
constexpr double kTop = 96;
constexpr double kMiddle = 692;  // clear of the card in the corner
constexpr double kBreath_s = 6.0;

Picture paint_invitation(SDL_Renderer* renderer) {
  Painter painter(kWidth, kHeight);
  painter.rounded({0, 0, kWidth, kHeight}, 14, {8, 12, 24, 205});
  painter.rounded({40, 74, kWidth - 80, 1.5}, 0, colour::kAmber.with_alpha(130));
  return painter.picture(renderer);
}

}  // namespace

Invitation::Invitation(SDL_Renderer* renderer) : plate_(paint_invitation(renderer)) {}

void Invitation::draw(const View& view) const {
  if (!view.game->attract() || view.shift().finished()) return;
  plate_.draw(view.renderer, kMiddle - kWidth / 2.0, kTop);
  view.text->draw({kMiddle, kTop + 24}, "The night tram", {.size = 34, .align = Align::centre});
  const bool panel = view.game->panel().link == PanelLink::fresh;
  const double breath = 0.5 + 0.5 * std::sin(6.2832 * view.now_s / kBreath_s);
  view.text->draw(
      {kMiddle, kTop + 86},
      panel ? "Move the handle or press a button: it is yours." : "Press any key: it is yours.",
      {.size = 15,
       .colour = colour::kAmber.with_alpha(170 + static_cast<int>(85 * breath)),
       .align = Align::centre});
  view.text->draw({kMiddle, kTop + 111}, "Until then it drives itself.",
                  {.size = 9, .colour = colour::kFaintCream, .align = Align::centre});
}

}  // namespace understudy::tram
