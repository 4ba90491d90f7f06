// A mistake as drawn: the line it stands in with what is meant underlined, and what is wrong there.
#pragma once

#include <functional>
#include <string>
#include <string_view>

#include "sim/window/areas.h"
#include "sim/window/mistake_places.h"

namespace understudy {

// Into the current ImGui window, over its whole width.
void draw_mistake(const AreaContext& context, const PlacedMistake& mistake);

// As much of the line as fits with what is marked in it, "..." where something is cut.
struct ShownLine {
  std::string text;
  std::string before;  // of the text, up to what is marked
  std::string marked;
};
ShownLine shown_part(const PlacedMistake& mistake,
                     const std::function<bool(std::string_view)>& fits);

}  // namespace understudy
