// Presses of a contact and its bounce, as far as lines show them: what happens between two lines
// stays unseen, so lengths are true to one line interval.
//
//   contact  ____/\/\/~~~~~~~~~~~~~~~~~~\/\____
//                |---|                  |-|      two episodes: changes less than 25 ms apart
//                |----------------------|        one press: from first change to first change
//
// 25 ms: chatter lasts 0.5 to 6 ms, of worn contacts up to 100 ms, with changes close together; two
// presses of one finger are 80 ms apart and more (common practice, no source).
#pragma once

#include <cstdint>
#include <optional>

#include "sim/base/time.h"
#include "sim/measure/quantiles.h"

namespace understudy {

// Changes that are closer together belong to one episode.
inline constexpr Duration kBounceQuiet = milliseconds(25);

struct ContactFigures {
  std::int64_t presses = 0;
  std::optional<Duration> press_least;
  std::optional<Duration> press_median;
  std::optional<Duration> press_most;
  std::int64_t bounces = 0;  // episodes of more than the one change that the hand made
  std::optional<Duration> bounce_median;
  std::optional<Duration> bounce_most;
  std::int64_t changes_most = 0;  // in one episode
  bool down_at_end = false;
  Duration down_for_at_end = {};  // how long by then
};

// A regular value. Times never go back.
class ContactStatistics {
 public:
  // The contact was seen in this state at t; the same state as before changes nothing.
  void add(Instant t, bool down) {
    if (!known_ || down != down_ || changes_ > 0) take(t, down);
  }
  // What was down then is no press with a known end: the port was opened anew.
  void interrupt();

  [[nodiscard]] ContactFigures figures(Instant now) const;

 private:
  void take(Instant t, bool down);
  void settle();

  bool known_ = false;
  bool down_ = false;         // as seen last
  bool settled_ = false;      // before the episode under way
  std::int64_t changes_ = 0;  // of that episode; 0: none
  Instant first_change_;
  Instant last_change_;
  std::optional<Instant> down_since_;
  bool saw_it_go_down_ = false;  // at down_since_; else it was down when it was first seen
  std::int64_t presses_ = 0;
  std::int64_t bounces_ = 0;
  std::int64_t changes_most_ = 0;
  Quantiles press_lengths_;
  Quantiles bounce_lengths_;
};

}  // namespace understudy
