// Bytes that come in from outside through a descriptor that other programs may share: standard
// input, a game's output. Reading never waits.
#pragma once

#include <cstddef>
#include <memory>
#include <optional>

#include "sim/link/pacer.h"

namespace understudy {

// Borrows the descriptor and sets nothing on it. One-shot, as a Watch: after ready(), read until
// nothing is there, then arm() again.
class ByteFeed {
 public:
  ByteFeed(Pacer& pacer, int descriptor);
  ~ByteFeed();
  ByteFeed(const ByteFeed&) = delete;
  ByteFeed& operator=(const ByteFeed&) = delete;

  void arm();
  // Something to read, or the end, came since it was armed; the pacer was woken.
  [[nodiscard]] bool ready() const;

  // Up to `space` bytes; 0: the stream has ended; absent: nothing is there now.
  std::optional<std::size_t> read(char* into, std::size_t space);

 private:
  struct State;
  std::shared_ptr<State> state_;
};

// Whether lines may be taken from standard input. Not from a terminal where reading in the
// background would stop this program.
bool may_read_standard_input();

}  // namespace understudy
