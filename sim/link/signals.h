// SIGINT, SIGTERM and SIGHUP as events that wake the pacer, instead of handlers that interrupt
// anywhere.
#pragma once

#include <memory>
#include <optional>

#include "sim/link/pacer.h"

namespace understudy {

// While one of these lives, the three signals are held back from the whole process and come out of
// take(). At most one at a time. Make it before other threads are started. Also ignores SIGPIPE.
class Signals {
 public:
  explicit Signals(Pacer& pacer);
  ~Signals();
  Signals(const Signals&) = delete;
  Signals& operator=(const Signals&) = delete;

  // The number of a signal that came in (SIGINT 2: status 130; SIGTERM 15: status 143; SIGHUP 1,
  // when the terminal was closed: status 129).
  std::optional<int> take();

 private:
  struct State;
  std::unique_ptr<State> state_;
};

}  // namespace understudy
