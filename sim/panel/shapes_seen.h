// Many lines sorted by shape, with what was seen at each place of each shape.
#pragma once

#include <string>
#include <vector>

#include "sim/panel/learn.h"
#include "sim/panel/line_shape.h"

namespace understudy {

// All that was seen at one place of one shape.
struct PlaceSeen {
  std::string label;
  bool word = false;
  StatePair pair;
  int decimals = 0;
  bool decimals_vary = false;
  bool leading_zero = false;
  std::size_t width = 0;
  bool width_varies = false;
  std::size_t ones = 0;
  std::size_t zeros = 0;
  std::size_t count = 0;
  bool counts_up = true;  // by one from line to line
  double last = 0;
  bool negative = false;
  double largest = 0;
};

struct ShapeSeen {
  LineShape shape;
  std::vector<PlaceSeen> places;
  std::size_t count = 0;
  std::size_t first = 0;  // index of its first line
  std::string example;
};

// Every shape of the lines, in the order of their first ones; of noise without end, only the first
// thousand.
std::vector<ShapeSeen> shapes_in(const std::vector<SampleLine>& lines);

// The shapes with values that come often enough to be meant, at most a dozen, in the same order.
std::vector<ShapeSeen> believed(const std::vector<ShapeSeen>& shapes, std::size_t lines);

}  // namespace understudy
