// Tells when somebody opens, reads or closes a path. Linux: inotify.
#pragma once

#include <memory>
#include <string>

#include "sim/link/pacer.h"

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

// What all watches of one pacer share: systems give a user few of these.
struct OpenHub;

// Thread: the pacer's.
class OpenWatch {
 public:
  explicit OpenWatch(Pacer& pacer);
  ~OpenWatch();
  OpenWatch(const OpenWatch&) = delete;
  OpenWatch& operator=(const OpenWatch&) = delete;

  // Watches `path` instead of what was watched before; forgets what was not yet taken. False where
  // the system refuses: nothing will be told. `reads`: a read by the game makes an event, too.
  bool watch(const std::string& path, bool reads = true);
  // Looks away, so that our own opening and closing of the path is not seen; until watch().
  void look_away();

  OpenEvents take();

  // Looking through all processes is dear, so the watches of one pacer take turns, a second apart:
  // the first free time at or after `wanted`, which is then taken.
  Instant reserve_search(Instant wanted);

 private:
  std::shared_ptr<OpenHub> hub_;
  int path_watch_ = -1;
};

}  // namespace understudy
