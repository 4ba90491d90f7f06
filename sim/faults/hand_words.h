// The notation by which a hand is told what to do, the same on the command line, on standard input
// and at the keyboard:  WHO DOES [HOW MUCH] [WHEN]
//
//   bell down                 bell press 120ms             bell down from 1s for 2s
//   sander on                 power to 40% in 0.5s         tram-2/bell press (of several seats)
//   mode to 3                 mode to slow                 mode next
//   focus turn 3 clicks       focus turn -1.5 turns in 2s  focus turn 90deg
//   stick.x to 80% in 0.2s    stick to 80% 20%             stick let go
//   stick press               stick.press down
#pragma once

#include <functional>
#include <optional>
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
  // Where a part of a control is going, in ppm: what `next` and `previous` count from. Empty: each
  // lies where it lies at power-on.
  std::function<std::int32_t(std::size_t control, std::size_t part)> heading = {};
};

// What is to happen so long after the words were said.
struct TimedHand {
  Duration after;
  std::uint16_t seat = 0;
  HandAction action;
  friend bool operator==(const TimedHand&, const TimedHand&) = default;
};

// One part of a control of a seat, as HandAction names it.
struct SaidPart {
  std::uint16_t seat = 0;
  std::uint16_t control = 0;
  std::uint8_t part = 0;
  friend bool operator==(const SaidPart&, const SaidPart&) = default;
};

// What is said of a real box, beside what hands do: `box out` and the virtual one plays in its
// place, `box in` and it is back. Nothing: it is said otherwise.
std::optional<SeatSource> read_box_words(std::string_view line);

// `power let go`, `stick.x let go`, or `let go` of everything: what hands may hold in a real box's
// place. Nothing: it is said otherwise, or of no control that is here.
std::optional<std::vector<SaidPart>> read_let_go(std::string_view line,
                                                 std::span<const HandSeat> seats);

// Common practice, no source: how long a press lasts, a stick takes to spring back (and then rests,
// swinging no more), and a careful hand takes from one detent to the next.
inline constexpr Duration kPressDefault = milliseconds(120);
inline constexpr Duration kSpringBack = milliseconds(80);
inline constexpr Duration kClickDefault = milliseconds(100);
// Nobody turns a knob further in one movement.
inline constexpr std::int64_t kTurnsMax = 1'000;

// The actions of one line, in order of time. Errors (kUnusable) name the word, what would be right
// and the nearest known one. A line that is empty or begins with # gives no action.
Result<std::vector<TimedHand>> parse_hand_words(std::string_view line,
                                                std::span<const HandSeat> seats);

// Whether a line gives no action: it is empty or begins with #. On a command line that is a
// mistake.
bool says_nothing(std::string_view line);
// What is said of it there.
Error nothing_said();

}  // namespace understudy
