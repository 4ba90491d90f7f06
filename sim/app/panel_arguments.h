// The arguments of `panel`, for the program that is asked and for the one that opens the window.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "sim/app/serve_arguments.h"
#include "sim/app/verb.h"

namespace understudy {

struct WindowSize {
  int width = 0;  // pixels; 0: not said
  int height = 0;
};
Result<Done> read_argument(std::string_view text, WindowSize& into);

struct PanelArguments {
  ServeArguments serve;
  std::vector<std::string> hands;  // in words, from the beginning on
  WindowSize size;
  double scale = 0;  // 0: not said
  bool compact = false;
  bool on_top = false;
  std::string picture;  // a file to write instead of opening a window
};

// Without a game, a picture is of virtual time and the same each time.
inline constexpr Duration kPictureAfterDefault = seconds(2);

inline constexpr VerbGroup kPanelGroup = VerbGroup::kPlay;
inline constexpr std::string_view kPanelSummary = "plays panels for games to open, in a window";

void declare_panel_arguments(Arguments& arguments, PanelArguments& into);

}  // namespace understudy
