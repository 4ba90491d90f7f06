// The marks of a gauge's scale for the numbers that it takes: at round numbers, as many as can be
// read. Where they are drawn is the dial's work.
#pragma once

#include <string>
#include <vector>

#include "sim/model/control_description.h"

namespace understudy {

struct GaugeMark {
  double share = 0;  // 0 at the range's first number, 1 at its last
  bool main = false;
  std::string text;  // of a main mark: its number as lines write it, or its word
};

// From the first to the last. Never more than kMainMarksMax main ones; words are all main ones.
inline constexpr int kMainMarksMax = 7;
std::vector<GaugeMark> marks_of(const Sends& range);

}  // namespace understudy
