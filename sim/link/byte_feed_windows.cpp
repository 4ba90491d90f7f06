// Windows cannot wait for a pipe or a console that was not opened for it, so a thread reads ahead,
// a little, and tells the pacer. It owns a handle of its own and is left alone when the feed goes:
// a read that nobody answers cannot be ended everywhere.
#include "sim/link/byte_feed.h"

#include <io.h>
#include <windows.h>

#include <algorithm>
#include <asio/post.hpp>
#include <condition_variable>
#include <cstring>
#include <mutex>
#include <string>
#include <thread>

#include "sim/link/wait_engine.h"

namespace understudy {
namespace {

constexpr std::size_t kAheadBytesMax = 65'536;

HANDLE own_handle_of(int descriptor) {
  const auto borrowed = reinterpret_cast<HANDLE>(_get_osfhandle(descriptor));
  HANDLE own = INVALID_HANDLE_VALUE;
  const HANDLE here = GetCurrentProcess();
  if (!DuplicateHandle(here, borrowed, here, &own, 0, FALSE, DUPLICATE_SAME_ACCESS))
    return INVALID_HANDLE_VALUE;
  return own;
}

}  // namespace

// Shared with the thread and with news under way. What is below the mutex is guarded by it.
struct ByteFeed::State {
  bool ready = false;  // the pacer's thread alone

  std::mutex mutex;
  std::condition_variable room;
  WaitEngine* engine = nullptr;  // none: the feed is gone
  std::string waiting;
  bool armed = false;
  bool ended = false;

  static void tell(const std::shared_ptr<State>& state);
  static void read_ahead(const std::shared_ptr<State>& state, HANDLE handle);
};

// REQUIRES: the mutex is held. Wakes the pacer where it waits for this and there is something.
void ByteFeed::State::tell(const std::shared_ptr<State>& state) {
  if (state->engine == nullptr || !state->armed || (state->waiting.empty() && !state->ended))
    return;
  state->armed = false;
  WaitEngine* engine = state->engine;
  asio::post(engine->context, [state, engine] {
    state->ready = true;
    engine->touched = true;
  });
}

void ByteFeed::State::read_ahead(const std::shared_ptr<State>& state, HANDLE handle) {
  char buffer[4'096];
  for (bool more = true; more;) {
    DWORD got = 0;
    more = ReadFile(handle, buffer, sizeof buffer, &got, nullptr) && got > 0;
    std::unique_lock lock(state->mutex);
    state->room.wait(
        lock, [&] { return state->engine == nullptr || state->waiting.size() < kAheadBytesMax; });
    if (state->engine == nullptr) break;
    state->waiting.append(buffer, more ? got : 0);
    state->ended = !more;
    tell(state);
  }
  if (handle != INVALID_HANDLE_VALUE) CloseHandle(handle);
}

ByteFeed::ByteFeed(Pacer& pacer, int descriptor) : state_(std::make_shared<State>()) {
  state_->engine = &pacer.engine();
  state_->armed = true;
  std::thread([state = state_, handle = own_handle_of(descriptor)] {
    State::read_ahead(state, handle);
  }).detach();
}

ByteFeed::~ByteFeed() {
  const std::lock_guard lock(state_->mutex);
  state_->engine = nullptr;
  state_->room.notify_all();
}

void ByteFeed::arm() {
  state_->ready = false;
  const std::lock_guard lock(state_->mutex);
  state_->armed = true;
  State::tell(state_);
}

bool ByteFeed::ready() const {
  return state_->ready;
}

std::optional<std::size_t> ByteFeed::read(char* into, std::size_t space) {
  const std::lock_guard lock(state_->mutex);
  if (state_->waiting.empty()) {
    if (state_->ended) return std::size_t{0};
    return std::nullopt;
  }
  const std::size_t size = std::min(space, state_->waiting.size());
  std::memcpy(into, state_->waiting.data(), size);
  state_->waiting.erase(0, size);
  state_->room.notify_all();
  return size;
}

// A console may be read: nothing here stops whoever does so in the background.
bool may_read_standard_input() {
  return _get_osfhandle(0) >= 0;
}

}  // namespace understudy
