// How the window is divided: the strip at the top, the face, and the areas beside or below it.
// Numbers only; what stands there is drawn by desk.cpp.
#pragma once

#include <imgui.h>

namespace understudy {

struct Box {
  float left = 0;
  float top = 0;
  float right = 0;
  float bottom = 0;
  [[nodiscard]] float width() const { return right - left; }
  [[nodiscard]] float height() const { return bottom - top; }
  [[nodiscard]] ImVec2 at() const { return {left, top}; }
  [[nodiscard]] ImVec2 size() const { return {width(), height()}; }
};

struct LayoutWish {
  ImVec2 window;  // pixels
  float unit = 1.0F;
  float face_ratio = 2;  // width over height
  float share = 0.36F;   // of the window for the areas, as the splitter was dragged
  bool areas = true;
  bool tabs = false;      // several seats
  bool timeline = false;  // of a recording, over the whole width below
  bool compact = false;   // the face alone
};

struct Layout {
  Box strip;
  Box tabs;
  Box table;  // where the face may lie
  Box face;   // the largest of its proportion in there, on whole pixels
  Box splitter;
  Box areas;
  Box timeline;
  bool below = false;  // the areas lie below the face
};

inline constexpr float kShareLeast = 0.15F;
inline constexpr float kShareMost = 0.7F;

// Every box lies within the window, and none but `face` in `table` within another.
Layout divided(const LayoutWish& wish);

// The share for a splitter dragged to `at`.
float dragged_share(const LayoutWish& wish, const Layout& layout, ImVec2 at);

}  // namespace understudy
