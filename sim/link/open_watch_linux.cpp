// inotify(7): IN_ACCESS stands for a read by the game, IN_OPEN and IN_CLOSE for what they say. A
// descriptor that is passed on by fork() or dup() makes no event until the last copy is closed.
#include <sys/inotify.h>

#include <algorithm>
#include <map>
#include <utility>

#include "sim/link/descriptor.h"
#include "sim/link/open_watch.h"
#include "sim/link/wait_engine.h"
#include "sim/link/watch.h"

namespace understudy {

// One inotify instance for a pacer: a user may have some hundred, and other programs need theirs.
struct OpenHub {
  explicit OpenHub(Pacer& pacer) : inotify(inotify_init1(IN_NONBLOCK | IN_CLOEXEC)) {
    if (inotify.valid()) ready = std::make_unique<Watch>(pacer, inotify.get());
  }
  void read();

  Descriptor inotify;
  std::unique_ptr<Watch> ready;
  std::map<int, OpenEvents> events;  // by the number of the watch
  Instant free_for_search;
};

namespace {

constexpr Duration kSearchGap = seconds(1);

void note(OpenEvents& events, std::uint32_t mask) {
  events.any = true;
  if ((mask & IN_OPEN) != 0) {
    events.opened = true;
    ++events.net;
    events.closed_then_opened |= events.closed;
  }
  if ((mask & IN_CLOSE) != 0) {
    events.closed = true;
    events.least = std::min(events.least, --events.net);
  }
}

}  // namespace

void OpenHub::read() {
  if (!ready || !ready->ready()) return;
  alignas(inotify_event) char buffer[4'096];
  ssize_t got = 0;
  while ((got = ::read(inotify.get(), buffer, sizeof buffer)) > 0) {
    for (ssize_t at = 0; at < got;) {
      const auto* event = reinterpret_cast<const inotify_event*>(buffer + at);
      at += static_cast<ssize_t>(sizeof *event + event->len);
      if ((event->mask & IN_Q_OVERFLOW) != 0) {
        // Events were lost: anything may have happened to anyone.
        for (auto& [number, of_one] : events) note(of_one, IN_OPEN | IN_CLOSE);
      }
      const auto found = events.find(event->wd);
      if (found != events.end()) note(found->second, event->mask);
    }
  }
  ready->arm();
}

OpenWatch::OpenWatch(Pacer& pacer) : hub_(pacer.engine().open_hub.lock()) {
  if (hub_) return;
  hub_ = std::make_shared<OpenHub>(pacer);
  pacer.engine().open_hub = hub_;
}

OpenWatch::~OpenWatch() {
  look_away();
}

bool OpenWatch::watch(const std::string& path, bool reads) {
  look_away();
  const std::uint32_t wanted = IN_OPEN | IN_CLOSE | (reads ? IN_ACCESS : 0);
  path_watch_ = inotify_add_watch(hub_->inotify.get(), path.c_str(), wanted);
  if (path_watch_ < 0) return false;
  hub_->events[path_watch_] = {};
  return true;
}

void OpenWatch::look_away() {
  if (path_watch_ < 0) return;
  inotify_rm_watch(hub_->inotify.get(), path_watch_);
  hub_->events.erase(path_watch_);
  path_watch_ = -1;
}

Instant OpenWatch::reserve_search(Instant wanted) {
  const Instant at = later(wanted, hub_->free_for_search);
  hub_->free_for_search = at + kSearchGap;
  return at;
}

OpenEvents OpenWatch::take() {
  hub_->read();
  const auto found = hub_->events.find(path_watch_);
  return found == hub_->events.end() ? OpenEvents{} : std::exchange(found->second, OpenEvents{});
}

}  // namespace understudy
