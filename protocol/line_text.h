// Counting in the text of a line. For the files of this folder.
#pragma once

#include <string_view>

namespace understudy::protocol {

// How many numbers stand in the line; a point inside a number belongs to it.
std::size_t count_numbers(std::string_view line);

}  // namespace understudy::protocol
