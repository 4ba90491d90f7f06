// Tells when somebody opens, reads or closes a path. Linux: inotify.
#pragma once

#include <memory>
#include <string>

#include "sim/link/descriptor.h"
#include "sim/link/pacer.h"
#include "sim/link/watch.h"

namespace understudy {

// What happened to the path since it was last asked. Equal events in a row come as one, so the
// counts are rough; whether anybody has it open now is to be asked elsewhere.
struct OpenEvents {
  bool any = false;
  bool opened = false;              // at least once
  bool closed = false;              // at least once
  bool closed_then_opened = false;  // in this order
  int net = 0;                      // openings less closings
  int least = 0;                    // the least that this difference was on the way
};

class OpenWatch {
 public:
  explicit OpenWatch(Pacer& pacer);

  // Watches `path` instead of what was watched before; forgets what was not yet taken.
  bool watch(const std::string& path);
  // Looks away, so that our own opening and closing of the path is not seen; until watch().
  void look_away();

  OpenEvents take();

 private:
  Descriptor inotify_;
  std::unique_ptr<Watch> ready_;
  int path_watch_ = -1;
};

}  // namespace understudy
