// What was said before counts for `next`, in the order in which it was said.
#include "sim/app/said_hands.h"

#include <algorithm>
#include <map>
#include <tuple>

#include "sim/faults/hand_words.h"
#include "sim/model/kinds.h"

namespace understudy {

Result<std::vector<SeatInput>> said_hands(std::span<const std::string> hands,
                                          std::span<const SeatPlan> seats) {
  constexpr Instant kStart{1};
  std::vector<SeatInput> inputs;
  std::map<std::tuple<std::size_t, std::size_t, std::size_t>, std::int32_t> headings;
  std::vector<HandSeat> hand_seats;
  for (std::size_t seat = 0; seat < seats.size(); ++seat) {
    inputs.push_back({static_cast<std::uint16_t>(seat),
                      {kStart, LinkOpened{.dtr = true, .takes_at_once = true}}});
    const auto heading = [&headings, &seats, seat](std::size_t control, std::size_t part) {
      const auto found = headings.find({seat, control, part});
      if (found != headings.end()) return found->second;
      return rest_ppm(seats[seat].panel->description.controls[control], part);
    };
    hand_seats.push_back({seats[seat].name, seats[seat].panel.get(), heading});
  }
  for (const std::string& words : hands) {
    if (says_nothing(words)) return nothing_said();
    const auto said = parse_hand_words(words, hand_seats);
    if (!said.ok()) return said.error();
    for (const TimedHand& hand : said.value()) {
      inputs.push_back({hand.seat, {later(kStart, Instant{hand.after.ns}), hand.action}});
      headings[{hand.seat, hand.action.control, hand.action.part}] = hand.action.to_ppm;
    }
  }
  std::stable_sort(inputs.begin(), inputs.end(),
                   [](const SeatInput& a, const SeatInput& b) { return a.input.at < b.input.at; });
  return inputs;
}

std::span<const SeatInput> take_due(std::span<const SeatInput>& left, Instant until) {
  const auto beyond = std::find_if(left.begin(), left.end(),
                                   [&](const SeatInput& i) { return i.input.at > until; });
  const auto due = left.first(static_cast<std::size_t>(beyond - left.begin()));
  left = left.subspan(due.size());
  return due;
}

}  // namespace understudy
