// How board programs commonly read a line: whole numbers one after the other, whatever stands
// between them. Deliberately as careless as they are; the strict reader is in protocol/.
#pragma once

#include <cstdint>
#include <span>
#include <string_view>

namespace understudy {

// Fills `numbers` from the front with the whole numbers found in `line`, skipping all that is
// neither digit nor a minus before one; returns how many were found, at most numbers.size().
// "0,5,0,25" gives 0 5 0 25; "L3=255" gives 3 255. Numbers beyond 32 bits wrap as a 32-bit int.
std::size_t integers_in_a_row(std::string_view line, std::span<std::int64_t> numbers);

}  // namespace understudy
