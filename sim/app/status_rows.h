// A row for each control and output of a seat, as `serve` shows them on a terminal: a picture of 20
// cells, its state in words, and what goes over the line. What else stands there is status_text.h's
// work.
#pragma once

#include <string>
#include <string_view>

#include "sim/session/session.h"

namespace understudy {

struct RowOf {
  const Session& session;
  std::size_t seat = 0;
  std::size_t index = 0;  // among the controls, or the outputs
};

// `keys`: what moves it, such as "[W more, S less]".
std::string control_row(const RowOf& row, bool selected, std::string_view keys);
std::string output_row(const RowOf& row);

}  // namespace understudy
