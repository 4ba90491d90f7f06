// Lines as they were seen -> a draft of a panel that would send them.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "sim/base/result.h"
#include "sim/panel/draft.h"

namespace understudy {

// One line without its ending. `at` counts where lines were timed; else all are 0.
struct SampleLine {
  std::string text;
  Instant at;
};

// What was seen of both directions.
struct Samples {
  std::vector<SampleLine> to_game;
  std::vector<SampleLine> to_panel;
  std::string to_game_ends = "\n";
  std::string to_panel_ends = "\n";
  bool timed = false;
};

// Guesses controls from the values (0 and 1: a button; a range: a pot), outputs likewise, keeps the
// text's shape, and sees to it that the file is right. Errors: kUnusable where no line has a value.
Result<Draft> learn(const Samples& samples, const std::string& title);

}  // namespace understudy
