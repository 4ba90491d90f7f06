// signalfd(2): the signals are blocked for the process and read like any other event.
#include <signal.h>
#include <sys/signalfd.h>
#include <unistd.h>

#include "sim/link/descriptor.h"
#include "sim/link/signals.h"
#include "sim/link/watch.h"

namespace understudy {
namespace {

// Those that ask for an end, without any that this program was started to ignore (nohup(1)).
sigset_t signals_to_hear() {
  sigset_t set;
  sigemptyset(&set);
  for (const int number : {SIGINT, SIGTERM, SIGHUP}) {
    struct sigaction now {};
    if (sigaction(number, nullptr, &now) == 0 && now.sa_handler != SIG_IGN) {
      sigaddset(&set, number);
    }
  }
  return set;
}

}  // namespace

struct Signals::State {
  explicit State(Pacer& pacer) {
    const sigset_t set = signals_to_hear();
    pthread_sigmask(SIG_BLOCK, &set, &before);
    descriptor = Descriptor(signalfd(-1, &set, SFD_NONBLOCK | SFD_CLOEXEC));
    watch = std::make_unique<Watch>(pacer, descriptor.get());
  }
  sigset_t before{};
  Descriptor descriptor;
  std::unique_ptr<Watch> watch;
};

Signals::Signals(Pacer& pacer) : state_(std::make_unique<State>(pacer)) {
  signal(SIGPIPE, SIG_IGN);
}

Signals::~Signals() {
  state_->watch.reset();
  pthread_sigmask(SIG_SETMASK, &state_->before, nullptr);
}

std::optional<int> Signals::take() {
  if (!state_->watch->ready()) return std::nullopt;
  signalfd_siginfo info{};
  const ssize_t got = read(state_->descriptor.get(), &info, sizeof info);
  if (got == static_cast<ssize_t>(sizeof info)) return static_cast<int>(info.ssi_signo);
  state_->watch->arm();
  return std::nullopt;
}

}  // namespace understudy
