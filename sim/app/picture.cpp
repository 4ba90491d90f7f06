// Steps of a tenth of a second, fed as they would be to a window.
#include "sim/app/picture.h"

#include <utility>

#include "sim/app/said_hands.h"
#include "sim/app/window_feed.h"

namespace understudy {
namespace {

constexpr Duration kStep = milliseconds(100);

}  // namespace

Result<Done> play_for_picture(const PanelArguments& arguments, Exchange& exchange) {
  const SessionArguments& asked = arguments.serve.session;
  const auto seats = plan_seats(asked);
  if (!seats.ok()) return seats.error();
  const auto inputs = said_hands(arguments.hands, seats.value());
  if (!inputs.ok()) return inputs.error();
  Session session = make_session(asked, seat_options(asked, seats.value(), true));
  SessionOutputs outputs;
  std::vector<FeedItem> items;
  std::span<const SeatInput> left = inputs.value();
  const Instant end{asked.length.value_or(kPictureAfterDefault).ns};
  while (session.now() < end) {
    const Instant until = earlier(end, session.now() + kStep);
    const auto due = take_due(left, until);
    session.step(until, due, outputs);
    add_passed({.inputs = due, .outputs = outputs, .handed_over = until}, items);
    put_in_order(items);
    exchange.feed(std::exchange(items, {}));
  }
  exchange.publish(view_of(session, seats.value()));
  return Done{};
}

}  // namespace understudy
