// Asks by poll() before each read, so that a descriptor shared with other programs need not be made
// non-blocking for all of them.
#include "sim/link/byte_feed.h"

#include <poll.h>
#include <unistd.h>

#include "sim/link/watch.h"

namespace understudy {

struct ByteFeed::State {
  State(Pacer& pacer, int d) : descriptor(d), watch(pacer, d) {}
  int descriptor;
  Watch watch;
};

ByteFeed::ByteFeed(Pacer& pacer, int descriptor)
    : state_(std::make_shared<State>(pacer, descriptor)) {}

ByteFeed::~ByteFeed() = default;

void ByteFeed::arm() {
  state_->watch.arm();
}

bool ByteFeed::ready() const {
  return state_->watch.ready();
}

std::optional<std::size_t> ByteFeed::read(char* into, std::size_t space) {
  pollfd readable{state_->descriptor, POLLIN, 0};
  if (poll(&readable, 1, 0) <= 0) return std::nullopt;
  const ssize_t got = ::read(state_->descriptor, into, space);
  return got > 0 ? static_cast<std::size_t>(got) : 0;
}

bool may_read_standard_input() {
  return isatty(STDIN_FILENO) == 0;
}

}  // namespace understudy
