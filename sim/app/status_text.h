// What `serve` shows of its seats on a terminal, as plain lines. Drawing them is terminal.h's work.
#pragma once

#include <cstdint>
#include <span>
#include <string>
#include <vector>

#include "sim/link/seat_links.h"
#include "sim/session/session.h"

namespace understudy {

// The control that the arrow keys move.
struct Selection {
  std::size_t seat = 0;
  std::size_t control = 0;
};

struct StatusView {
  const Session& session;
  std::span<const SeatLinks> links;
  std::span<const std::vector<std::string>> key_names;  // of each control, for each seat
  Selection selection;
  bool help = false;  // the keys explained
  std::size_t columns = 80;
  std::size_t rows = 24;
  std::string replay = {};  // how far a replay is: "12.3 of 60.0 s"; empty: it is none
};

// At most view.rows - 1 lines of at most view.columns characters. One seat: all its controls and
// outputs; several: a line each, with the selected seat's controls below.
std::vector<std::string> status_lines(const StatusView& view);

// What passed and what was lost, for one seat at the end of a run. `changes`: of its outputs.
std::string summary_of(const Session& session, std::size_t seat, const LinkCounts& links,
                       std::int64_t changes);

}  // namespace understudy
