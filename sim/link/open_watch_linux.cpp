// inotify(7): IN_ACCESS stands for a read by the game, IN_OPEN and IN_CLOSE for what they say. A
// descriptor that is passed on by fork() or dup() makes no event until the last copy is closed.
#include <sys/inotify.h>

#include <algorithm>

#include "sim/link/open_watch.h"

namespace understudy {

OpenWatch::OpenWatch(Pacer& pacer) : inotify_(inotify_init1(IN_NONBLOCK | IN_CLOEXEC)) {
  if (inotify_.valid()) ready_ = std::make_unique<Watch>(pacer, inotify_.get());
}

bool OpenWatch::watch(const std::string& path) {
  look_away();
  take();
  path_watch_ = inotify_add_watch(inotify_.get(), path.c_str(), IN_OPEN | IN_CLOSE | IN_ACCESS);
  return path_watch_ >= 0;
}

void OpenWatch::look_away() {
  if (path_watch_ >= 0) inotify_rm_watch(inotify_.get(), path_watch_);
  path_watch_ = -1;
}

OpenEvents OpenWatch::take() {
  OpenEvents events;
  if (!ready_ || !ready_->ready()) return events;
  alignas(inotify_event) char buffer[4'096];
  ssize_t got = 0;
  while ((got = ::read(inotify_.get(), buffer, sizeof buffer)) > 0) {
    for (ssize_t at = 0; at < got;) {
      const auto* event = reinterpret_cast<const inotify_event*>(buffer + at);
      at += static_cast<ssize_t>(sizeof *event + event->len);
      const bool overflow = (event->mask & IN_Q_OVERFLOW) != 0;
      if (event->wd != path_watch_ && !overflow) continue;
      events.any = true;
      if ((event->mask & IN_OPEN) != 0 || overflow) {
        events.opened = true;
        ++events.net;
        events.closed_then_opened |= events.closed;
      }
      if ((event->mask & IN_CLOSE) != 0 || overflow) {
        events.closed = true;
        events.least = std::min(events.least, --events.net);
      }
    }
  }
  ready_->arm();
  return events;
}

}  // namespace understudy
