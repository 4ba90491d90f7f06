// What has passed in the session, as far as the areas show it: lines both ways, courses of values
// for charts, what was said and printed, lamps that flash. Fed once a frame; no ImGui, no clock.
#pragma once

#include <memory>
#include <vector>

#include "sim/window/feed.h"
#include "sim/window/session_view.h"

namespace understudy {

class History {
 public:
  History();
  ~History();
  // `view` is the newest; `portion` what passed since the last call.
  void take(const SessionView& view, FeedPortion portion);

 private:
  struct State;
  std::unique_ptr<State> state_;
};

}  // namespace understudy
