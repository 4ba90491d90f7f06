// One descriptor in the pacer's Asio context.
#include "sim/link/watch.h"

#include <asio/posix/stream_descriptor.hpp>

#include "sim/base/check.h"
#include "sim/link/wait_engine.h"

namespace understudy {

// Shared with the handler that is under way, which may come after the watch is gone.
struct Watch::State {
  explicit State(WaitEngine& e) : engine(&e), descriptor(e.context) {}
  WaitEngine* engine;
  asio::posix::stream_descriptor descriptor;
  bool armed = false;
  bool ready = false;
};

Watch::Watch(Pacer& pacer, int descriptor) : state_(std::make_shared<State>(pacer.engine())) {
  asio::error_code error;
  state_->descriptor.assign(descriptor, error);
  CHECK(!error, "a descriptor to watch must be open, and watched once");
  arm();
}

Watch::~Watch() {
  // Gives the descriptor back open; a pending handler runs later and is told that it was aborted.
  if (state_->descriptor.is_open()) state_->descriptor.release();
}

void Watch::arm() {
  state_->ready = false;
  if (state_->armed) return;
  state_->armed = true;
  const auto wait = asio::posix::stream_descriptor::wait_read;
  state_->descriptor.async_wait(wait, [state = state_](const asio::error_code& error) {
    state->armed = false;
    if (error == asio::error::operation_aborted) return;
    // Any other error is for the read to find; a plain file, which cannot be waited for, is ready.
    state->ready = true;
    state->engine->touched = true;
  });
}

bool Watch::ready() const {
  return state_->ready;
}

}  // namespace understudy
