// The console's control events stand in for signals. They come in a thread of the system's own.
#include "sim/link/signals.h"

#include <windows.h>

#include <asio/post.hpp>
#include <mutex>

#include "sim/link/wait_engine.h"

namespace understudy {
namespace {

constexpr int kInterrupt = 2;   // ctrl-C, ctrl-break
constexpr int kHangUp = 1;      // the console was closed
constexpr int kTerminate = 15;  // the user logs off, the machine goes down
// After a closed console the system waits about five seconds for the handler, then ends the
// program.
constexpr DWORD kFinishing_ms = 4'500;

// What the handler knows of the one object that lives; the system hands it no pointer.
struct Hearing {
  std::mutex mutex;
  WaitEngine* engine = nullptr;  // none: nobody listens
  std::optional<int> heard;
};
Hearing& hearing() {
  static Hearing only;
  return only;
}

BOOL WINAPI hear(DWORD kind) {
  {
    Hearing& here = hearing();
    const std::lock_guard lock(here.mutex);
    if (here.engine == nullptr) return FALSE;
    here.heard = kind == CTRL_C_EVENT || kind == CTRL_BREAK_EVENT ? kInterrupt
                 : kind == CTRL_CLOSE_EVENT                       ? kHangUp
                                                                  : kTerminate;
    WaitEngine* engine = here.engine;
    asio::post(engine->context, [engine] { engine->touched = true; });
  }
  // The program is ended as soon as this returns; what has to be finished takes place elsewhere.
  if (kind != CTRL_C_EVENT && kind != CTRL_BREAK_EVENT) Sleep(kFinishing_ms);
  return TRUE;
}

}  // namespace

struct Signals::State {};

Signals::Signals(Pacer& pacer) : state_(std::make_unique<State>()) {
  {
    const std::lock_guard lock(hearing().mutex);
    hearing().engine = &pacer.engine();
    hearing().heard.reset();
  }
  SetConsoleCtrlHandler(hear, TRUE);
}

Signals::~Signals() {
  SetConsoleCtrlHandler(hear, FALSE);
  const std::lock_guard lock(hearing().mutex);
  hearing().engine = nullptr;
}

std::optional<int> Signals::take() {
  const std::lock_guard lock(hearing().mutex);
  return std::exchange(hearing().heard, std::nullopt);
}

}  // namespace understudy
