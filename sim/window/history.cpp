// What has passed; nothing is kept yet.
#include "sim/window/history.h"

namespace understudy {

struct History::State {};

History::History() : state_(std::make_unique<State>()) {}
History::~History() = default;

void History::take(const SessionView& /*view*/, FeedPortion /*portion*/) {}

}  // namespace understudy
