// What the person at the window wants of the session; the session's thread stamps and does it.
#pragma once

#include <cstdint>
#include <memory>
#include <string>
#include <variant>
#include <vector>

#include "sim/faults/hand_words.h"
#include "sim/model/panel.h"

namespace understudy {

// Hands; `after` counts from when the session's thread takes the wish. What is planned already for
// the same parts of controls is forgotten where `instead` is true.
struct HandWish {
  std::vector<TimedHand> hands;
  bool instead = true;
  // The panel that the person saw, whose controls the hands mean (all of one seat then): by the
  // time they are taken it may be another. Null: that of the view published last.
  std::shared_ptr<const Panel> seen = nullptr;
};
// A seat goes on with another panel (the file was changed, or another was opened).
struct ReloadWish {
  std::uint16_t seat = 0;
  std::string path;
  std::shared_ptr<const Panel> panel;
};
enum class GameOrder : std::uint8_t { kStart, kStop };  // kStart of a running one: restarts it
struct GameWish {
  GameOrder order = GameOrder::kStart;
};
// Of a recording that is looked at.
enum class TimelineOrder : std::uint8_t {
  kPlay,  // from the beginning where it stands at the end
  kPause,
  kSeek,        // to `at`
  kNextLine,    // to where the next line to the game of `seat` is whole
  kLineBefore,  // the one before
  kRepeat,      // from `at` to `to`, again and again; nothing where they are equal
  kSpeed,       // `speed` times as fast
};
struct TimelineWish {
  TimelineOrder order = TimelineOrder::kPlay;
  Instant at = {};
  Instant to = {};
  double speed = 1.0;
  std::uint16_t seat = 0;
};
// What `understudy hand` could say too: "box out", "mark: here it flickered".
struct WordsWish {
  std::string words;
};
struct LeaveWish {};

using Wish = std::variant<HandWish, ReloadWish, GameWish, TimelineWish, WordsWish, LeaveWish>;

}  // namespace understudy
