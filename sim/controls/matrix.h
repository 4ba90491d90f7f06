// A matrix of buttons: what the program reads at a crossing while it drives one column and reads
// one row. With a diode at each button current goes one way only; without, it finds its way through
// other buttons that are down, and a fourth seems pressed when three are.
//
//        column 1   column 2
//   row 1 --[x]--------[ghost]      [x] down: from row 1 to column 1, to row 2, to column 2
//   row 2 --[x]--------[x]
//
// Common practice, no source: graph reachability is all there is to it.
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>

#include "sim/model/panel_description.h"

namespace understudy {

// Which buttons are down: a bit for each column, row by row. A regular value.
class MatrixContacts {
 public:
  // REQUIRES: row, column < kMatrixLinesMax
  void close(std::size_t row, std::size_t column) {
    rows_[row] |= static_cast<std::uint32_t>(1U << column);
  }
  [[nodiscard]] bool is_closed(std::size_t row, std::size_t column) const {
    return (rows_[row] >> column & 1U) != 0;
  }
  // Whether row and column are joined, by their own button or round about.
  [[nodiscard]] bool joins(std::size_t row, std::size_t column, bool diodes) const;

 private:
  std::array<std::uint32_t, kMatrixLinesMax> rows_{};
};

}  // namespace understudy
