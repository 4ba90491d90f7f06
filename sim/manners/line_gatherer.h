// The buffer in which a board's program gathers a line from the game, byte by byte, and what it
// does with a finished one. Bounded: a line that grows too long is thrown away to its end.
#pragma once

#include <array>
#include <cstddef>
#include <string_view>

#include "sim/model/panel.h"

namespace understudy {

// A regular value.
class LineGatherer {
 public:
  // Takes one byte. True when it finished a line: text() is it, without the start and end bytes.
  // `start` is 0 where lines have none; `ends`, any of which ends a line, is empty where each byte
  // is a line. (What is left of longer markers is the program's to take off: Program::bare.)
  bool add(char byte, char start, std::string_view ends);
  [[nodiscard]] std::string_view text() const { return {bytes_.data(), size_}; }
  [[nodiscard]] bool empty() const { return size_ == 0; }
  void clear();

  template <class Digest>
  void add_to(Digest& digest) const {
    digest.add(text());
    digest.add(inside_);
    digest.add(finished_);
    digest.add(too_long_);
  }

 private:
  std::array<char, kLongestBytesMax> bytes_{};
  std::size_t size_ = 0;
  bool inside_ = false;    // after a start marker
  bool finished_ = false;  // cleared by the next byte
  bool too_long_ = false;
};

}  // namespace understudy
