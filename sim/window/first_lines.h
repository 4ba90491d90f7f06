// What to type in one's own language to hear a panel: the first lines of a program, with the port's
// actual place, by the readers of protocol/readers (docs/readers.md) or by the system alone.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>

#include "sim/window/session_view.h"

namespace understudy {

struct FirstLines {
  std::string hint;  // which file to copy beside it, or what to know; a sentence
  std::string code;  // three to six lines, line feeds between
};

// In the order in which they are offered: "Python", "C#"...
std::span<const std::string_view> first_line_languages();

// Nothing where that language has no way to any of the links. REQUIRES: language < their number
std::optional<FirstLines> first_lines(std::size_t language, const SeatView& seat);

// The readers read whole numbers with commas only.
bool readers_read(const Panel& panel);

}  // namespace understudy
