// Which segments of which digit light for a number or a word, as drivers of seven-segment digits
// and their usual programs do it. For display, and for what the digits draw.
//
//      --a--        Segments have the trade's letters, a at the top and on clockwise, g in the
//     f     b       middle; bit 0 is a, bit 6 is g, bit 7 the point behind the digit.
//      --g--
//     e     c       Numbers stand to the right with dark digits before them, a minus right before
//      --d--  dp    the first digit; what has no room is a row of dashes. Words stand to the left.
//
// Source: common practice.
#pragma once

#include <array>
#include <cstdint>
#include <string_view>

#include "sim/model/output_description.h"

namespace understudy {

inline constexpr std::uint8_t kSegmentDash = 0x40;
inline constexpr std::uint8_t kSegmentPoint = 0x80;

// From left to right.
struct DigitRow {
  std::array<std::uint8_t, kDigitsMax> segments = {};
  int count = 0;
  friend bool operator==(const DigitRow&, const DigitRow&) = default;
};

// The segments of one character; a letter in the one way in which it can be told, and dark where
// it cannot (k, m, v, w, x).
std::uint8_t segments_of(char character);

// What stands there for a wire number. REQUIRES: 1 <= digits.digits.count <= kDigitsMax
DigitRow digits_shown(std::int64_t number, const OutputDescription& digits);

int lit_segments(const DigitRow& row);

}  // namespace understudy
