// The shine that all lamps share.
#include "scenarios/tram/game/scene/view.h"

namespace understudy::tram {

Shine::Shine(SDL_Renderer* renderer) {
  Painter painter(96, 96);
  painter.glow({48.0, 48.0}, 48.0, {255, 255, 255});
  spot_ = painter.picture(renderer);
  SDL_SetTextureBlendMode(spot_.texture.get(), SDL_BLENDMODE_ADD);
}

void Shine::draw(const View& view, Spot centre, double radius, Colour colour) const {
  draw_flat(view, centre, {.width = 2.0 * radius, .height = 2.0 * radius}, colour);
}

void Shine::draw_flat(const View& view, Spot centre, const Box& size, Colour colour) const {
  if (!View::visible(centre.x - size.width / 2.0, size.width)) return;
  spot_.draw_over(
      view.renderer,
      {centre.x - size.width / 2.0, centre.y - size.height / 2.0, size.width, size.height}, colour);
}

Colour colour_of(Aspect aspect) {
  switch (aspect) {
    case Aspect::green:
      return colour::kGreen;
    case Aspect::amber:
      return colour::kAmber;
    case Aspect::red:
      return colour::kRed;
  }
  return colour::kRed;
}

}  // namespace understudy::tram
