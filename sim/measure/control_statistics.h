// One field that a control sends, as its numbers come: the range it was seen in beside the range it
// promises, noise at rest, drift, jumps, presses and bounce, and whether it is stuck or was never
// used. Takes timed wire numbers from anywhere: a recording, a live box.
#pragma once

#include <cstdint>
#include <optional>
#include <vector>

#include "sim/base/time.h"
#include "sim/measure/contact_statistics.h"
#include "sim/measure/jump_watch.h"
#include "sim/measure/rest_noise.h"

namespace understudy {

// What kind of numbers a field carries.
enum class FieldWay : std::uint8_t {
  kSlides,   // any number of a range: pots, x and y of sticks, sensors
  kContact,  // two of them: buttons, switches, the press of a stick
  kPlaces,   // one for each place of a selector
  kCounts,   // goes on counting, or says how far since the last line: encoders
};

// What is to be said of a control at a glance.
enum class ControlVerdict : std::uint8_t {
  kUnseen,     // no line carried it
  kUsed,       // it moved
  kNeverUsed,  // it did nothing but rest, and no hand is known to have moved it
  kStuck,      // hands moved it, and it did not follow
  kHeld,       // a contact that was down in all of the recording
};

struct ControlFigures {
  std::int64_t numbers = 0;  // how many lines carried it
  std::int64_t changes = 0;  // from one line to the next
  std::optional<std::int64_t> least;
  std::optional<std::int64_t> most;
  // Of the promised span, 0 to 1; none where it promises one number alone.
  std::optional<double> span_share;
  std::int64_t out_of_range = 0;  // numbers beyond what it promises
  RestFigures rest;               // kSlides
  std::int64_t jumps = 0;         // kSlides
  std::vector<Jump> first_jumps;
  ContactFigures contact;                // kContact
  std::int64_t hand_moves = 0;           // that were recorded and asked for a change
  std::int64_t unfollowed = 0;           // of them: nothing came of it
  std::optional<Instant> stuck_since;    // the first of the last run of those; kStuck alone
  std::optional<std::int64_t> stuck_at;  // the number
  ControlVerdict verdict = ControlVerdict::kUnseen;
};

struct ControlStatisticsOptions {
  FieldWay way = FieldWay::kSlides;
  // As the panel promises: the number of the low end (up, open) and of the high end (down, closed);
  // low may be the larger. See Sends.
  std::int64_t low = 0;
  std::int64_t high = 1023;
};

// A regular value. Times handed in never go back.
class ControlStatistics {
 public:
  explicit ControlStatistics(const ControlStatisticsOptions& options);

  // A line carried this wire number.
  void add(Instant t, std::int64_t number) {
    ++numbers_;
    if (numbers_ == 1) begin(number);
    if (number != last_) take_change(t, number);
    if (way_ == FieldWay::kContact) {
      contact_.add(t, number == high_);
    } else if (way_ == FieldWay::kSlides) {
      if (jumps_.add(t, number) || jumps_.away()) rest_.spoil();
      rest_.add(t, number);
    }
  }
  // A hand was recorded that moves it so far: by this share of its travel, in millionths, over
  // `duration`. What comes of it is looked for until `duration` and a second more are over.
  void hand_moved(Instant t, std::int64_t by_ppm, Duration duration);
  // The port was opened anew, or lines are of another panel: what follows is a new stretch.
  void interrupt();

  [[nodiscard]] ControlFigures figures(Instant now) const;
  [[nodiscard]] const ControlStatisticsOptions& options() const { return options_; }

 private:
  // A movement by a recorded hand, whose consequence is waited for.
  struct Asked {
    Instant at;
    Instant until;
    std::int64_t least = 0;  // of the numbers since
    std::int64_t most = 0;
    std::int64_t follows = 0;  // so far apart, and it has followed
  };
  void begin(std::int64_t number);
  void take_change(Instant t, std::int64_t number);
  void judge_asked();
  [[nodiscard]] ControlVerdict verdict(const ControlFigures& figures) const;

  ControlStatisticsOptions options_;
  FieldWay way_;
  std::int64_t high_;
  std::int64_t lowest_;  // of what is promised
  std::int64_t highest_;
  std::int64_t numbers_ = 0;
  std::int64_t changes_ = 0;
  std::int64_t last_ = 0;
  std::int64_t least_ = 0;
  std::int64_t most_ = 0;
  std::int64_t out_of_range_ = 0;
  RestNoise rest_;
  JumpWatch jumps_;
  ContactStatistics contact_;
  std::optional<Asked> asked_;
  std::int64_t hand_moves_ = 0;
  std::int64_t unfollowed_ = 0;
  std::int64_t unfollowed_run_ = 0;  // the last ones in a row
  Instant run_since_;
};

}  // namespace understudy
