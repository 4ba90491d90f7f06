// An eventfd(2): writing adds to its count, one read takes all of it away.
#include "sim/link/waker.h"

#include <sys/eventfd.h>
#include <unistd.h>

#include <cstdint>

#include "sim/base/check.h"
#include "sim/link/descriptor.h"
#include "sim/link/watch.h"

namespace understudy {

struct Waker::State {
  explicit State(Pacer& pacer) : descriptor(eventfd(0, EFD_NONBLOCK | EFD_CLOEXEC)) {
    CHECK(descriptor.valid(), "a process may have a few descriptors more");
    watch = std::make_unique<Watch>(pacer, descriptor.get());
  }
  Descriptor descriptor;
  std::unique_ptr<Watch> watch;
};

Waker::Waker(Pacer& pacer) : state_(std::make_unique<State>(pacer)) {}

Waker::~Waker() {
  state_->watch.reset();
}

void Waker::wake() {
  const std::uint64_t one = 1;
  // Full after 2^64 - 2 wakes that nobody took: it is awake then.
  [[maybe_unused]] const ssize_t written = write(state_->descriptor.get(), &one, sizeof one);
}

bool Waker::take() {
  if (!state_->watch->ready()) return false;
  std::uint64_t count = 0;
  [[maybe_unused]] const ssize_t got = read(state_->descriptor.get(), &count, sizeof count);
  state_->watch->arm();
  return true;
}

}  // namespace understudy
