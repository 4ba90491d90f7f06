// Turns of luminance, and what counts as a flash.
#include "sim/observe/flash_counter.h"

#include <algorithm>
#include <cmath>

namespace understudy {
namespace {

// Steps of PWM are ratios of 255 or 256, and 0.1 is none of doubles: this much is rounding.
constexpr double kRounding = 1e-9;

}  // namespace

void FlashCounter::take(Instant t, double luminance) {
  if (!begun_) {
    begun_ = true;
    start_ = end_ = luminance;
    return;
  }
  const double ahead = rises_ ? luminance - end_ : end_ - luminance;
  if (ahead >= 0) {
    end_ = luminance;
  } else if (start_ == end_ || -ahead >= kFlashChange - kRounding) {
    start_ = end_;
    end_ = luminance;
    rises_ = !rises_;
    counted_ = false;
  } else {
    return;
  }
  const bool far = std::abs(end_ - start_) >= kFlashChange - kRounding;
  if (counted_ || !far || std::min(start_, end_) >= kFlashDarkerBelow) return;
  counted_ = true;
  if (counted_rising_ == rises_) return;  // no opposing one in between
  counted_rising_ = rises_;
  changes_.push_back(t);
  while (changes_.front() <= t - kFlashWindow || changes_.size() > kChangesMax)
    changes_.pop_front();
}

int FlashCounter::flashes(Instant t) const {
  const auto changes = std::count_if(changes_.begin(), changes_.end(),
                                     [&](Instant at) { return at > t - kFlashWindow && at <= t; });
  return static_cast<int>(changes / 2);
}

}  // namespace understudy
