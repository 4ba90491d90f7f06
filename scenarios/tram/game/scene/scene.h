// The picture: a calm, wet street at night with the tram in side view, and the desk's dials below.
#pragma once

#include <SDL.h>

namespace understudy::tram {

class Game;

constexpr int kSceneWidth = 1280;
constexpr int kSceneHeight = 720;

class Scene {
 public:
  explicit Scene(SDL_Renderer* renderer) : renderer_(renderer) {}
  void draw(const Game& game, double seconds);

 private:
  SDL_Renderer* renderer_;
};

}  // namespace understudy::tram
