// The line formats of a panel, compiled in both directions, and what is wrong with them as data, so
// that whoever read them from a file can say where.
#pragma once

#include <string>
#include <vector>

#include "protocol/outcome.h"
#include "sim/model/panel.h"

namespace understudy {

inline constexpr std::size_t kLinesMax = 16;  // each way, before `each` is expanded

enum class CompileFaultAt : std::uint8_t { kFields, kFraming, kLine, kLineCount };

struct CompileFault {
  CompileFaultAt at = CompileFaultAt::kLine;
  bool to_game = true;
  std::size_t line = 0;   // index in lines_to_game or lines_to_panel
  std::size_t other = 0;  // of two that quarrel, else equal to line
  protocol::FormatError error;
};

// Fills everything of `panel` that follows from its description. Faults are appended; where there
// are any, the formats of that direction are not usable.
void compile_formats(Panel& panel, std::vector<CompileFault>& faults);

}  // namespace understudy
