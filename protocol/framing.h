// Framing: how one line is told from the next in a stream of bytes. It belongs to a direction, not
// to a format: every line to the game is framed alike. Cutting a stream up is splitter.h's work.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "protocol/outcome.h"

namespace understudy::protocol {

// Longest marker (starts, ends, each of accepts).
inline constexpr std::size_t kMarkerBytesMax = 16;
// What `longest` may be at most.
inline constexpr std::size_t kLineBytesMax = 65536;

//   ends only        512,300,1\n              the text up to an ending
//   starts and ends  <512,300,1>              the text between markers; what lies outside is stray
//   neither          U                        each byte is a line of its own
//
// A plain value; copies freely.
struct Framing {
  // Written and required before each line; empty for none. Not without `ends`.
  std::string starts = {};
  // Written after each line. Empty (with empty starts): each byte is a line.
  std::string ends = "\n";
  // Further endings that are taken as an end when reading, for example "\r\n" beside "\n". Where
  // several fit at one place, the longest is taken, so "\r\n" leaves no "\r" in the text. After
  // a short ending, the rest of a longer one ("\r", then "\n" of "\r\n") is no line of its own.
  std::vector<std::string> accepts = {};
  // Most bytes of text (without markers) that a line may have.
  std::size_t longest = 255;

  bool each_byte_is_a_line() const { return ends.empty() && starts.empty(); }
  bool operator==(const Framing&) const = default;
};

// Says why this framing cannot work, or nothing: markers that contain each other, `starts`
// without `ends`, markers longer than kMarkerBytesMax, longest of 0 or above kLineBytesMax.
std::optional<FormatError> find_fault_in_framing(const Framing& framing);

}  // namespace understudy::protocol
