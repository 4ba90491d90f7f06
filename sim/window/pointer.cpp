// A press counts where it was made, else the last motion for the place; the last change of each
// button for its state.
#include "sim/window/pointer.h"

#include <cfloat>
#include <utility>

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
      if (!down) break;
      pressed_[static_cast<std::size_t>(place)] = true;
      if (!pressed_at_) pressed_at_ = at_;
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
  const std::optional<ImVec2> pressed_at = std::exchange(pressed_at_, std::nullopt);
  const ImVec2 at = pressed_at.value_or(at_);
  io.MousePos = at.x == -FLT_MAX ? at : ImVec2(at.x * ratio, at.y * ratio);
  pending_ = at.x != at_.x || at.y != at_.y;
  for (std::size_t i = 0; i < down_.size(); ++i) {
    io.MouseDown[i] = down_[i] || pressed_[i];
    pending_ = pending_ || (pressed_[i] && !down_[i]);
    pressed_[i] = false;
  }
}

}  // namespace understudy
