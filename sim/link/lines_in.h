// Lines of text that come in through a descriptor: standard input, a game's output. Bounded, never
// blocking.
#pragma once

#include <string>
#include <vector>

#include "sim/link/byte_feed.h"
#include "sim/link/pacer.h"

namespace understudy {

inline constexpr std::size_t kLineInBytesMax = 4'096;

// Borrows the descriptor and sets nothing on it.
class LinesIn {
 public:
  LinesIn(Pacer& pacer, int descriptor);

  // The lines that are complete, without their ends (LF or CR LF), some thousands at most. A line
  // longer than kLineInBytesMax is cut there; a last line without its end comes with the end of
  // the stream.
  std::vector<std::string> take();
  // The same without waiting to be woken first: for the last words of a process that has ended.
  std::vector<std::string> take_now();

  // The stream ended and all its lines were taken.
  [[nodiscard]] bool ended() const { return ended_; }

 private:
  void end_line(std::vector<std::string>& lines);
  void read_some(std::vector<std::string>& lines);

  ByteFeed feed_;
  std::string part_;
  bool ended_ = false;
};

// Raw bytes instead of lines, for keys pressed in a terminal (the terminal's mode is the caller's).
class BytesIn {
 public:
  BytesIn(Pacer& pacer, int descriptor);
  std::string take();
  [[nodiscard]] bool ended() const { return ended_; }

 private:
  ByteFeed feed_;
  bool ended_ = false;
};

}  // namespace understudy
