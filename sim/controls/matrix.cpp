// Spreads from a row over all columns and rows that closed buttons join.
#include "sim/controls/matrix.h"

namespace understudy {

bool MatrixContacts::joins(std::size_t row, std::size_t column, bool diodes) const {
  if (diodes || is_closed(row, column)) return is_closed(row, column);
  std::uint32_t columns = rows_[row];
  for (std::uint32_t before = 0; before != columns;) {
    before = columns;
    for (const std::uint32_t other : rows_)
      if ((other & columns) != 0) columns |= other;
  }
  return (columns >> column & 1U) != 0;
}

}  // namespace understudy
