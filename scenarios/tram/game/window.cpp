// Window, renderer and keys. Keys are places on the keyboard (scancodes), shown on screen by the
// name that the player's layout gives them.
#include "scenarios/tram/game/window.h"

#include <algorithm>

#include "scenarios/tram/game/keys.h"
#include "scenarios/tram/game/scene/scene.h"
#include "scenarios/tram/game/sound/speaker.h"

namespace understudy::tram {

namespace {

// The largest of the scene's proportion in the right half of the display, half way down.
SDL_Rect right_half() {
  SDL_Rect room = {0, 0, 2 * kSceneWidth, kSceneHeight};
  SDL_GetDisplayUsableBounds(0, &room);
  const int width = std::min(room.w / 2, kSceneWidth);
  return {room.x + room.w - width, SDL_WINDOWPOS_CENTERED, width,
          width * kSceneHeight / kSceneWidth};
}

}  // namespace

Window::Window() = default;

Window::~Window() {
  scene_.reset();
  if (renderer_ != nullptr) SDL_DestroyRenderer(renderer_);
  if (window_ != nullptr) SDL_DestroyWindow(window_);
  SDL_Quit();
}

bool Window::open(bool right) {
  SDL_SetHint(SDL_HINT_NO_SIGNAL_HANDLERS, "1");  // main.cpp has its own
  SDL_SetHint(SDL_HINT_RENDER_SCALE_QUALITY, "linear");
  if (SDL_Init(SDL_INIT_VIDEO) == 0) {
    const SDL_Rect place =
        right ? right_half()
              : SDL_Rect{SDL_WINDOWPOS_CENTERED, SDL_WINDOWPOS_CENTERED, kSceneWidth, kSceneHeight};
    window_ = SDL_CreateWindow("The night tram", place.x, place.y, place.w, place.h,
                               SDL_WINDOW_RESIZABLE);
    if (window_ != nullptr) renderer_ = SDL_CreateRenderer(window_, -1, 0);
  }
  if (renderer_ == nullptr) {
    trouble_ = SDL_GetError();
    return false;
  }
  SDL_RenderSetLogicalSize(renderer_, kSceneWidth, kSceneHeight);
  scene_ = std::make_unique<Scene>(renderer_);
  return true;
}

void Window::take_key(const SDL_KeyboardEvent& key, Game& game) {
  for (const KeyOfAction& row : kKeys) {
    if (row.place != key.keysym.scancode) continue;
    if (key.type == SDL_KEYDOWN && key.repeat == 0) game.keyboard().press(row.action);
    if (key.type == SDL_KEYUP) game.keyboard().release(row.action);
  }
}

// What is not about driving. False: the game shall end.
bool Window::take_command(const SDL_KeyboardEvent& key, Game& game, Speaker& speaker) {
  game.keyboard().notice();
  if (key.repeat != 0) return true;
  switch (key.keysym.scancode) {
    case kKeyToEnd:
      return false;
    case kKeyToBeginAgain:
      game.begin_again();
      return true;
    case kKeyOfSound:
      speaker.switch_on(!speaker.on());
      return true;
    default:
      return true;
  }
}

bool Window::take_events(Game& game, Speaker& speaker) {
  SDL_Event event;
  while (SDL_PollEvent(&event) != 0) {
    switch (event.type) {
      case SDL_QUIT:
        return false;
      case SDL_KEYDOWN:
        if (!take_command(event.key, game, speaker)) return false;
        [[fallthrough]];
      case SDL_KEYUP:
        take_key(event.key, game);
        break;
      case SDL_WINDOWEVENT:
        if (event.window.event == SDL_WINDOWEVENT_FOCUS_LOST) game.keyboard().release_all();
        break;
      default:
        break;
    }
  }
  return true;
}

void Window::draw(const Game& game, double seconds, bool sound_on) {
  scene_->draw(game, seconds, sound_on);
  SDL_RenderPresent(renderer_);
}

}  // namespace understudy::tram
