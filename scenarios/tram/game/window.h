// The window: keys in, picture out. Draws with SDL's renderer, so that it works without a graphics
// card too; what is drawn is the scene's business.
#pragma once

#include <SDL.h>

#include <memory>
#include <string>

#include "scenarios/tram/game/game.h"

namespace understudy::tram {

class Scene;
class Speaker;

class Window {
 public:
  Window();
  ~Window();
  Window(const Window&) = delete;
  Window& operator=(const Window&) = delete;

  // `right`: in the right half of the display, and no larger. False where no window can be had;
  // trouble() says why.
  bool open(bool right);
  const std::string& trouble() const { return trouble_; }

  // Passes keys on to the game's keyboard and the one for sound to the speaker. False when the
  // player has closed the window.
  bool take_events(Game& game, Speaker& speaker);
  void draw(const Game& game, double seconds, bool sound_on);

 private:
  bool take_command(const SDL_KeyboardEvent& key, Game& game, Speaker& speaker);
  void take_key(const SDL_KeyboardEvent& key, Game& game);

  SDL_Window* window_ = nullptr;
  SDL_Renderer* renderer_ = nullptr;
  std::unique_ptr<Scene> scene_;
  std::string trouble_;
};

}  // namespace understudy::tram
