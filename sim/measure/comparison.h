// The figures that several recordings are compared by, one row each, for text and page alike.
#pragma once

#include <span>
#include <string>
#include <vector>

#include "sim/measure/measurement.h"

namespace understudy {

struct ComparisonRow {
  std::string heading;  // "to the game", "control power"; the same in successive rows
  std::string figure;
  std::vector<std::string> values;  // one for each recording; "-" where it has none
};

// Of the first seat of each; of further seats only those that have the same name as a seat of the
// first recording.
struct Comparison {
  std::string seat;
  std::vector<ComparisonRow> rows;
};
std::vector<Comparison> compared(std::span<const Measurement> measured);

// What stands for a recording above its column: its file without folder and ending.
std::string short_name(const std::string& file);

}  // namespace understudy
