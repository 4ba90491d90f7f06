// The letters, as strokes of a pen. Drawn for this game; text.h turns them into pixels.
#pragma once

#include <string_view>

namespace understudy::tram {

// The strokes of one ASCII character, separated by spaces. A stroke is a row of points, each two
// characters: x from 0 to 8, y from 0 (top of capitals) over a (= 10, the base line) to d (= 13).
// A stroke that begins with ~ is rounded, one that begins with o is rounded and closed.
// The space has none; characters that have no letter here give a frame.
std::string_view strokes_of(char character);

}  // namespace understudy::tram
