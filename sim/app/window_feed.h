// What a window is given of a session: what passed in a step, item by item, and a snapshot.
#pragma once

#include <memory>
#include <span>
#include <vector>

#include "sim/app/front.h"
#include "sim/app/session_arguments.h"
#include "sim/window/feed.h"
#include "sim/window/session_view.h"

namespace understudy {

// Puts what passed in a step at the end of `items`, in no order: chunks at their due, bytes from
// the game, hands and link events at their stamps, changes of outputs and notes.
void add_passed(const Turn& turn, std::vector<FeedItem>& items);

// In order of time; of the same instant, in the order in which they were put there.
void put_in_order(std::vector<FeedItem>& items);

// A copy of all devices and observers. Links, game and the rest are the caller's to fill in.
std::shared_ptr<SessionView> view_of(const Session& session, std::span<const SeatPlan> seats);

}  // namespace understudy
