// Puts the picture together: the street goes onto a texture of its own first, since the wet road
// shows it a second time.
#include "scenarios/tram/game/scene/scene.h"

namespace understudy::tram {

Scene::Scene(SDL_Renderer* renderer)
    : renderer_(renderer),
      text_(renderer),
      shine_(renderer),
      backdrop_(renderer),
      street_(renderer),
      trackside_(renderer),
      tram_(renderer),
      wet_(renderer),
      air_(renderer),
      desk_(renderer),
      overlay_(renderer),
      report_(renderer),
      invitation_(renderer),
      attendant_card_(renderer),
      above_rail_{.texture = nullptr, .width = kSceneWidth, .height = kDesk_y} {
  above_rail_.texture.reset(SDL_CreateTexture(renderer, SDL_PIXELFORMAT_ARGB8888,
                                              SDL_TEXTUREACCESS_TARGET, kSceneWidth, kDesk_y));
}

void Scene::draw(const Game& game, double seconds, bool sound_on) {
  now_s_ += seconds;
  const Motion& motion = game.shift().motion();
  const View view{.renderer = renderer_,
                  .text = &text_,
                  .game = &game,
                  .front_m = motion.position_m + motion.speed_mps * game.left_over_s(),
                  .now_s = now_s_,
                  .sound_on = sound_on};
  SDL_SetRenderTarget(renderer_, above_rail_.texture.get());
  backdrop_.draw(view);
  air_.draw_far_fog(view);
  street_.draw(view, shine_);
  air_.draw_street_fog(view);
  trackside_.draw_behind_tram(view, shine_);
  tram_.draw(view, shine_);
  air_.draw_near_fog(view);
  SDL_SetRenderTarget(renderer_, nullptr);

  SDL_SetRenderDrawColor(renderer_, 0, 0, 0, 255);
  SDL_RenderClear(renderer_);
  wet_.draw_road(view, above_rail_.texture.get());
  const SDL_Rect upper{0, 0, kSceneWidth, kRail_y};
  SDL_RenderCopy(renderer_, above_rail_.texture.get(), &upper, &upper);
  trackside_.draw_before_tram(view);
  air_.draw_falling(view);
  overlay_.draw(view, shine_);
  report_.draw(view);
  invitation_.draw(view);
  attendant_card_.draw(view);
  desk_.draw(view, shine_);
}

}  // namespace understudy::tram
