// Moves a copy of the device by hands that the line can have come from.
#include "sim/window/box_shown.h"

#include <algorithm>
#include <utility>
#include <vector>

#include "sim/session/shown_hands.h"

namespace understudy {
namespace {

bool is_box(const SeatView& seat) {
  return seat.source == SeatSource::kBox && seat.observer.traffic_to_game().last_known_at().ns >= 0;
}

void show_box(SeatView& seat) {
  std::vector<Input> inputs;
  const Instant at = seat.device.now() + nanoseconds(1);
  for (const HandAction& hand :
       hands_that_show(seat.device, seat.observer.traffic_to_game().numbers()))
    inputs.push_back({at, hand});
  if (inputs.empty()) return;
  StepOutputs outputs;
  seat.device.step(at, inputs, outputs);
}

}  // namespace

std::shared_ptr<const SessionView> with_boxes_shown(std::shared_ptr<const SessionView> view) {
  if (std::none_of(view->seats.begin(), view->seats.end(), is_box)) return view;
  auto shown = std::make_shared<SessionView>(*view);
  for (SeatView& seat : shown->seats)
    if (is_box(seat)) show_box(seat);
  return shown;
}

}  // namespace understudy
