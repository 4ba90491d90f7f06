// Watches one descriptor on behalf of whoever owns it, so that the pacer wakes when it is ready.
// Reads nothing itself.
#pragma once

#include <memory>

#include "sim/link/pacer.h"

namespace understudy {

// Borrows the descriptor, which must stay open as long as the watch, and the pacer, which must
// outlive it. One-shot: after ready(), read until the descriptor would block, then arm() again.
class Watch {
 public:
  // REQUIRES: descriptor is open. Descriptors that the system cannot wait for (plain files,
  // /dev/null) are always ready.
  Watch(Pacer& pacer, int descriptor);
  ~Watch();
  Watch(const Watch&) = delete;
  Watch& operator=(const Watch&) = delete;

  // Wakes the pacer as soon as there is something to read, or the other end is gone. Armed twice is
  // armed once.
  void arm();

  // It became ready since it was armed.
  [[nodiscard]] bool ready() const;

 private:
  struct State;
  std::shared_ptr<State> state_;
};

}  // namespace understudy
