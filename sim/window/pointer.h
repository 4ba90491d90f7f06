// Where the mouse is and which of its buttons are down, from events alone. ImGui's part for SDL
// asks the desktop instead, whose answer stands still while a button holds the mouse, and never
// sees events that another program has sent.
#pragma once

#include <SDL.h>
#include <imgui.h>

#include <array>
#include <optional>

namespace understudy {

class Pointer {
 public:
  // Looks at every event.
  void take(const SDL_Event& event);
  // After ImGui_ImplSDL2_NewFrame: `ratio` as Screen::ratio(). A press and a release since the
  // frame before become two frames.
  void apply(ImGuiIO& io, float ratio);
  // A release, or the way on from where a button was pressed, waits for the next frame.
  [[nodiscard]] bool pending() const { return pending_; }

 private:
  ImVec2 at_{-FLT_MAX, -FLT_MAX};
  std::array<bool, 3> down_{};
  std::array<bool, 3> pressed_{};     // since the last frame
  std::optional<ImVec2> pressed_at_;  // the first of them
  bool pending_ = false;
};

}  // namespace understudy
