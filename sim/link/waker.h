// Wakes the pacer from another thread: the window's, when somebody there wants something.
#pragma once

#include <memory>

#include "sim/link/pacer.h"

namespace understudy {

class Waker {
 public:
  explicit Waker(Pacer& pacer);
  ~Waker();
  Waker(const Waker&) = delete;
  Waker& operator=(const Waker&) = delete;

  // Ends the pacer's wait, or lets the next one return at once. Any thread; never blocks. Many
  // calls before one take() count as one.
  void wake();

  // Whether wake() was called since the last take(). What was left for this thread before that
  // call is there then. Thread: the pacer's.
  bool take();

 private:
  struct State;
  std::unique_ptr<State> state_;
};

}  // namespace understudy
