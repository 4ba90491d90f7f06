// Ranges, what hands asked for, and the verdict.
#include "sim/measure/control_statistics.h"

#include <algorithm>

#include "sim/base/check.h"

namespace understudy {
namespace {

// A hand asks for something where it moves by so much of the travel.
constexpr std::int64_t kAsksPpm = 100'000;
// And the number has followed where it moved by this part of what was asked, of the promised span.
constexpr std::int64_t kFollowsPart = 4;
constexpr Duration kFollowsWithin = seconds(1);
constexpr Duration kOneMovement = seconds(2);
// Fewer unfollowed movements may be chance: a line lost, a press between two lines.
constexpr std::int64_t kStuckMovesLeast = 2;
// What slides was used where it covered this share of its span, beyond what noise covers.
constexpr std::int64_t kUsedPercent = 2;
constexpr std::int64_t kUsedNoises = 8;
constexpr std::int64_t kPpm = 1'000'000;

}  // namespace

ControlStatistics::ControlStatistics(const ControlStatisticsOptions& options)
    : options_(options),
      way_(options.way),
      high_(options.high),
      lowest_(std::min(options.low, options.high)),
      highest_(std::max(options.low, options.high)),
      jumps_(highest_ - lowest_) {}

void ControlStatistics::begin(std::int64_t number) {
  last_ = least_ = most_ = number;
  if (number < lowest_ || number > highest_) ++out_of_range_;
}

void ControlStatistics::take_change(Instant t, std::int64_t number) {
  ++changes_;
  last_ = number;
  least_ = std::min(least_, number);
  most_ = std::max(most_, number);
  if (number < lowest_ || number > highest_) ++out_of_range_;
  if (!asked_) return;
  if (t > asked_->until) return judge_asked();
  asked_->least = std::min(asked_->least, number);
  asked_->most = std::max(asked_->most, number);
}

void ControlStatistics::hand_moved(Instant t, std::int64_t by_ppm, Duration duration) {
  // What follows soon is one movement with it: a press and its release, a drag.
  const bool soon = asked_ && t <= asked_->until && t - asked_->at <= kOneMovement;
  if (soon) {
    asked_->until = later(asked_->until, t + duration + kFollowsWithin);
    return;
  }
  if (asked_) judge_asked();
  const std::int64_t by = std::min(by_ppm < 0 ? -by_ppm : by_ppm, kPpm);
  if (by < kAsksPpm || numbers_ == 0) return;
  const auto span = static_cast<__int128>(highest_ - lowest_);
  const auto follows = static_cast<std::int64_t>(span * by / kPpm / kFollowsPart);
  asked_ = {.at = t,
            .until = t + duration + kFollowsWithin,
            .least = last_,
            .most = last_,
            .follows = way_ == FieldWay::kSlides ? std::max<std::int64_t>(follows, 1) : 1};
}

// What is known of the movement by now: it was followed, or nothing came of it.
void ControlStatistics::judge_asked() {
  ++hand_moves_;
  if (asked_->most - asked_->least >= asked_->follows) {
    unfollowed_run_ = 0;
  } else {
    ++unfollowed_;
    if (unfollowed_run_++ == 0) run_since_ = asked_->at;
  }
  asked_.reset();
}

void ControlStatistics::interrupt() {
  rest_.interrupt();
  jumps_.interrupt();
  contact_.interrupt();
  asked_.reset();
}

ControlVerdict ControlStatistics::verdict(const ControlFigures& figures) const {
  if (figures.numbers == 0) return ControlVerdict::kUnseen;
  if (figures.stuck_since) return ControlVerdict::kStuck;
  if (way_ == FieldWay::kContact && figures.changes == 0 && figures.contact.down_at_end)
    return ControlVerdict::kHeld;
  if (figures.changes == 0) return ControlVerdict::kNeverUsed;
  if (way_ != FieldWay::kSlides) return ControlVerdict::kUsed;
  const std::int64_t span = highest_ - lowest_;
  const double noise = figures.rest.rms.value_or(0);
  const double covered = static_cast<double>(figures.most.value() - figures.least.value());
  const double bound =
      std::max(static_cast<double>(span) * kUsedPercent / 100, kUsedNoises * noise);
  return covered > bound ? ControlVerdict::kUsed : ControlVerdict::kNeverUsed;
}

ControlFigures ControlStatistics::figures(Instant now) const {
  ControlStatistics closed = *this;
  if (closed.asked_ && now >= closed.asked_->until) closed.judge_asked();
  ControlFigures figures;
  figures.numbers = numbers_;
  figures.changes = changes_;
  if (numbers_ > 0) {
    figures.least = least_;
    figures.most = most_;
    if (highest_ > lowest_)
      figures.span_share =
          static_cast<double>(most_ - least_) / static_cast<double>(highest_ - lowest_);
  }
  figures.out_of_range = out_of_range_;
  if (way_ == FieldWay::kSlides) {
    figures.rest = rest_.figures(highest_ - lowest_ + 1);
    figures.jumps = jumps_.count();
    figures.first_jumps = jumps_.kept();
  }
  if (way_ == FieldWay::kContact) figures.contact = contact_.figures(now);
  figures.hand_moves = closed.hand_moves_;
  figures.unfollowed = closed.unfollowed_;
  if (closed.unfollowed_run_ >= kStuckMovesLeast) {
    figures.stuck_since = closed.run_since_;
    figures.stuck_at = last_;
  }
  figures.verdict = verdict(figures);
  return figures;
}

}  // namespace understudy
