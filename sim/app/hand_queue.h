// Hand actions that were asked for and are not due yet: from standard input, the hand socket, keys.
#pragma once

#include <algorithm>
#include <vector>

#include "sim/faults/hand_words.h"
#include "sim/model/panel_change.h"
#include "sim/session/session.h"

namespace understudy {

inline constexpr std::size_t kHandsWaitingMax = 10'000;  // more are refused

// One part of a control of a seat; see HandAction.
struct HandPlace {
  std::uint16_t seat = 0;
  std::uint16_t control = 0;
  std::uint8_t part = 0;
};

// Thread: one.
class HandQueue {
 public:
  // Plans the actions from `now` on. False, and nothing planned, when too many wait already.
  bool add(Instant now, const std::vector<TimedHand>& hands) {
    if (waiting_.size() + hands.size() > kHandsWaitingMax) return false;
    for (const TimedHand& hand : hands) {
      const SeatInput planned{hand.seat, Input{now + hand.after, hand.action}};
      const auto place = std::upper_bound(
          waiting_.begin(), waiting_.end(), planned,
          [](const SeatInput& a, const SeatInput& b) { return a.input.at < b.input.at; });
      waiting_.insert(place, planned);
    }
    return true;
  }
  // Forgets what is planned for one part of a control: a newer wish takes its place.
  void forget(const HandPlace& place) {
    std::erase_if(waiting_, [&](const SeatInput& hand) { return is_of(hand, place); });
  }
  // A seat has another panel from `from` on: what is planned from there moves the control of the
  // same name, and is forgotten where there is none. Gives how much was forgotten.
  std::size_t reload(std::uint16_t seat, Instant from, const PanelDescription& before,
                     const PanelDescription& after) {
    return std::erase_if(waiting_, [&](SeatInput& hand) {
      if (hand.seat != seat || hand.input.at < from) return false;
      const auto moved = hand_on(after, std::get<HandAction>(hand.input.what), before);
      if (moved) hand.input.what = *moved;
      return !moved;
    });
  }
  // Where what is planned last for a part of a control takes it, or where it goes now.
  // REQUIRES: it does not turn round and round
  [[nodiscard]] std::int32_t heading_of(const HandPlace& place, const Session& session) const {
    for (auto hand = waiting_.rbegin(); hand != waiting_.rend(); ++hand)
      if (is_of(*hand, place)) return std::get<HandAction>(hand->input.what).to_ppm;
    return session.device(place.seat).goal_ppm(place.control, place.part);
  }
  [[nodiscard]] Instant next_due() const {
    return waiting_.empty() ? kNever : waiting_.front().input.at;
  }
  // Moves what is due by `until` to the end of `inputs`; what should have been before `now` comes
  // right after it.
  void take_due(Instant now, Instant until, std::vector<SeatInput>& inputs) {
    std::size_t count = 0;
    while (count < waiting_.size() && waiting_[count].input.at <= until) {
      inputs.push_back(waiting_[count]);
      inputs.back().input.at = later(inputs.back().input.at, now + nanoseconds(1));
      ++count;
    }
    waiting_.erase(waiting_.begin(), waiting_.begin() + static_cast<std::ptrdiff_t>(count));
  }

 private:
  static bool is_of(const SeatInput& hand, const HandPlace& place) {
    const auto& action = std::get<HandAction>(hand.input.what);
    return hand.seat == place.seat && action.control == place.control && action.part == place.part;
  }

  std::vector<SeatInput> waiting_;  // ascending in time
};

}  // namespace understudy
