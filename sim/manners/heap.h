// Memory that goes to pieces: what is left of a line that a program puts together from texts when
// the largest free piece of its heap is short. When it prints, and when it stops, is the program's
// business (firmware.h).
//
// Model: a text of n characters takes n + 1 bytes in one piece. A line grows part by part; a part
// that finds no room is left out, and a shorter one after it may still fit:
//
//   enough: 1023,512,1    9 bytes: 1023,512    8 bytes: 1023,,1    1 byte: (nothing)
//
// A part is a number or a word (letters, digits, one of + - . _), or any other single character.
// Source: common practice of programs with text objects on small chips; the numbers are the panel
// file's.
#pragma once

#include <cstddef>
#include <cstdint>
#include <span>

#include "sim/model/panel_description.h"

namespace understudy {

// The largest free piece after so many lines, in bytes; 0: nothing is left.
// REQUIRES: heap.free_bytes > 0; heap.lines > 0
std::int64_t largest_piece(const HeapDescription& heap, std::uint64_t lines);

// Leaves in `line` what finds room in a piece of so many bytes, and returns how long that is.
std::size_t leave_what_fits(std::span<char> line, std::int64_t piece_bytes);

}  // namespace understudy
