// The window of the desktop and what draws into it: by the graphics processor where SDL has one, in
// memory where it would only be imitated. What is drawn, and when, is decided elsewhere.
#pragma once

#include <SDL.h>

#include <memory>
#include <string>

#include "sim/base/result.h"
#include "sim/window/renderer.h"

namespace understudy {

struct ScreenOptions {
  std::string title;
  int width = 1280;  // of the desktop's units
  int height = 720;
  bool on_top = false;
  bool left = false;  // at the left edge of the display; else in its middle
};

// How wide a window at the left edge of the display is to be: half of it, but from 800 to 1280.
// REQUIRES: SDL's video has been started
int width_of_left_half();

// Thread: the program's first.
class Screen {
 public:
  // SDL's video has been started. Errors: kLinkFailed.
  static Result<std::unique_ptr<Screen>> open(const ScreenOptions& options);
  virtual ~Screen();
  Screen(const Screen&) = delete;
  Screen& operator=(const Screen&) = delete;

  [[nodiscard]] SDL_Window* window() const { return window_; }
  [[nodiscard]] virtual Renderer& renderer() = 0;
  // Pixels, which on dense displays are more than the desktop's units.
  [[nodiscard]] virtual ImVec2 pixels() const = 0;
  // In the desktop's units; moved where it would reach beyond the display.
  void resize_in_view(int width, int height);
  // Pixels of one of the desktop's units.
  [[nodiscard]] float ratio() const;
  virtual void show(const ImDrawData& data) = 0;

 protected:
  explicit Screen(SDL_Window* window) : window_(window) {}

 private:
  SDL_Window* window_;
};

// Pixels of one unit of length for a window with so many pixels to a desktop's unit, on a display
// of so many dots an inch (0: it doesn't say): in quarters, from 1 to 4.
float unit_of_display(float ratio, float dots_per_inch);

}  // namespace understudy
