// Lines to learn from, out of one line, a plain log of lines, or a recording (JSON Lines).
#pragma once

#include <string_view>

#include "sim/base/result.h"
#include "sim/panel/learn.h"

namespace understudy {

// One line as typed on the command line; an ending that was typed with it, also as \n or \r\n in
// two letters each, is taken for the line's ending. Errors: kUnusable where it is no UTF-8.
Result<Samples> samples_of_line(std::string_view line);

// The text of a file. A recording's events {"ns":..., "from":"panel"|"game", "text":...} of its
// first seat give both directions with times; any other text is a log of lines to the game.
// Errors: kUnusable where it is no text, is compressed, or holds no lines.
Result<Samples> samples_of_file(std::string_view text, std::string_view file_name);

}  // namespace understudy
