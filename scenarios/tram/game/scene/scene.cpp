// Puts the picture together.
#include "scenarios/tram/game/scene/scene.h"

namespace understudy::tram {
void Scene::draw(const Game&, double) {
  SDL_RenderClear(renderer_);
}
}  // namespace understudy::tram
