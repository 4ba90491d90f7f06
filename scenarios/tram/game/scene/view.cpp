// The shine that all lamps share.
#include "scenarios/tram/game/scene/view.h"

namespace understudy::tram {

void Shine::draw(const View& view, Spot centre, double radius, Colour colour) {
  draw_flat(view, centre, {.width = 2.0 * radius, .height = 2.0 * radius}, colour);
}

void Shine::draw_flat(const View& view, Spot centre, const Box& size, Colour colour) {
  if (!View::visible(centre.x - size.width / 2.0, size.width)) return;
  const std::pair<int, int> key{static_cast<int>(size.width), static_cast<int>(size.height)};
  auto found = spots_.find(key);
  if (found == spots_.end()) {
    Painter painter(key.first, key.second);
    painter.glow({.width = size.width, .height = size.height}, {255, 255, 255});
    found = spots_.emplace(key, painter.picture(renderer_, Painter::Blend::add)).first;
  }
  found->second.draw_over(view.renderer,
                          {centre.x - size.width / 2.0, centre.y - size.height / 2.0,
                           key.first + 0.0, key.second + 0.0},
                          colour);
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
