// Jumps of a number that no hand makes: away by a good part of the range and back again at once, as
// a worn track or a loose wire does it. How fast hands are: common practice, no source; nobody
// moves a handle away and back in 60 ms.
#pragma once

#include <cstdint>
#include <cstdlib>
#include <vector>

#include "sim/base/time.h"

namespace understudy {

// Away by at least this share of the range (and four wire numbers), back to within half of that.
inline constexpr std::int64_t kJumpPercent = 5;
inline constexpr std::int64_t kJumpNumbersLeast = 4;
inline constexpr Duration kJumpLengthMax = milliseconds(60);
// How many are kept one by one; all are counted.
inline constexpr std::size_t kJumpsKept = 64;

struct Jump {
  Instant at;             // the first number that was away
  Duration length = {};   // until the first that was back
  std::int64_t from = 0;  // the number before: where on the track
  std::int64_t to = 0;    // the farthest from it
  friend bool operator==(const Jump&, const Jump&) = default;
};

// A regular value. Times never go back.
class JumpWatch {
 public:
  JumpWatch() = default;
  // `span`: the greatest wire number less the least. REQUIRES: span >= 0
  explicit JumpWatch(std::int64_t span) : threshold_(threshold_for(span)) {}

  // True where this number is back from a jump.
  bool add(Instant t, std::int64_t number) {
    if (!away_) {
      const std::int64_t last = last_;
      last_ = number;
      if (!begun_ || distance(number, last) < threshold_) {
        begun_ = true;
        return false;
      }
      away_ = true;
      jump_ = {.at = t, .length = {}, .from = last, .to = number};
      return false;
    }
    return while_away(t, number);
  }
  [[nodiscard]] bool away() const { return away_; }
  // The next number has nothing to do with those before.
  void interrupt() { away_ = begun_ = false; }

  [[nodiscard]] std::int64_t count() const { return count_; }
  // The first ones.
  [[nodiscard]] const std::vector<Jump>& kept() const { return kept_; }

 private:
  static std::int64_t distance(std::int64_t a, std::int64_t b) { return a < b ? b - a : a - b; }
  static std::int64_t threshold_for(std::int64_t span) {
    const std::int64_t share = span / 100 * kJumpPercent + span % 100 * kJumpPercent / 100;
    return share < kJumpNumbersLeast ? kJumpNumbersLeast : share;
  }
  bool while_away(Instant t, std::int64_t number) {
    last_ = number;
    if (t - jump_.at > kJumpLengthMax) {
      away_ = false;  // it has gone there
      return false;
    }
    if (distance(number, jump_.from) * 2 >= threshold_) {
      if (distance(number, jump_.from) > distance(jump_.to, jump_.from)) jump_.to = number;
      return false;
    }
    away_ = false;
    ++count_;
    jump_.length = t - jump_.at;
    if (kept_.size() < kJumpsKept) kept_.push_back(jump_);
    return true;
  }

  std::int64_t threshold_ = kJumpNumbersLeast;
  std::int64_t last_ = 0;
  Jump jump_;
  bool begun_ = false;
  bool away_ = false;
  std::int64_t count_ = 0;
  std::vector<Jump> kept_;
};

}  // namespace understudy
