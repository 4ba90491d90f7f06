// The notation by which a hand is told what to do, the same on the command line, on standard input
// and at the keyboard:  WHO DOES [HOW MUCH] [WHEN]
//
//   bell down          power to 40%            power to 40% in 0.5s
//   bell up            bell press              bell press 120ms
//   sander on          power to 0% from 2s     bell down from 1s for 2s
//   tram-2/bell press  (WHO of several seats)
#pragma once

#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "sim/base/result.h"
#include "sim/model/inputs.h"
#include "sim/model/panel.h"

namespace understudy {

// One of the seats a hand may reach.
struct HandSeat {
  std::string_view name;
  const Panel* panel = nullptr;
};

// What is to happen so long after the words were said.
struct TimedHand {
  Duration after;
  std::uint16_t seat = 0;
  HandAction action;
  friend bool operator==(const TimedHand&, const TimedHand&) = default;
};

inline constexpr Duration kPressDefault = milliseconds(120);

// The actions of one line, in order of time. Errors (kUnusable) name the word, what would be right
// and the nearest known one. A line that is empty or begins with # gives no action.
Result<std::vector<TimedHand>> parse_hand_words(std::string_view line,
                                                std::span<const HandSeat> seats);

}  // namespace understudy
