// The last motion counts for the place, the last change of each button for its state.
#include "sim/window/pointer.h"

#include <cfloat>

namespace understudy {
namespace {

int place_of(Uint8 button) {
  switch (button) {
    case SDL_BUTTON_LEFT:
      return ImGuiMouseButton_Left;
    case SDL_BUTTON_RIGHT:
      return ImGuiMouseButton_Right;
    case SDL_BUTTON_MIDDLE:
      return ImGuiMouseButton_Middle;
    default:
      return -1;
  }
}

}  // namespace

void Pointer::take(const SDL_Event& event) {
  switch (event.type) {
    case SDL_MOUSEMOTION:
      at_ = ImVec2(static_cast<float>(event.motion.x), static_cast<float>(event.motion.y));
      break;
    case SDL_MOUSEBUTTONDOWN:
    case SDL_MOUSEBUTTONUP: {
      at_ = ImVec2(static_cast<float>(event.button.x), static_cast<float>(event.button.y));
      const int place = place_of(event.button.button);
      if (place < 0) break;
      const bool down = event.type == SDL_MOUSEBUTTONDOWN;
      down_[static_cast<std::size_t>(place)] = down;
      if (down) pressed_[static_cast<std::size_t>(place)] = true;
      break;
    }
    case SDL_WINDOWEVENT:
      if (event.window.event == SDL_WINDOWEVENT_LEAVE && !down_[0] && !down_[1] && !down_[2]) {
        at_ = ImVec2(-FLT_MAX, -FLT_MAX);
      }
      break;
    default:
      break;
  }
}

void Pointer::apply(ImGuiIO& io, float ratio) {
  const bool away = at_.x == -FLT_MAX;
  io.MousePos = away ? at_ : ImVec2(at_.x * ratio, at_.y * ratio);
  pending_ = false;
  for (std::size_t i = 0; i < down_.size(); ++i) {
    io.MouseDown[i] = down_[i] || pressed_[i];
    pending_ = pending_ || (pressed_[i] && !down_[i]);
    pressed_[i] = false;
  }
}

}  // namespace understudy
