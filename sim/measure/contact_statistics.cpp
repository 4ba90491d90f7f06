// Episodes of changes, and what each makes of the state before it.
#include "sim/measure/contact_statistics.h"

#include <algorithm>

namespace understudy {
namespace {

std::optional<Duration> duration_of(std::optional<std::int64_t> ns) {
  if (!ns) return std::nullopt;
  return Duration{*ns};
}

}  // namespace

void ContactStatistics::take(Instant t, bool down) {
  if (changes_ > 0 && t - last_change_ >= kBounceQuiet) settle();
  if (!known_) {
    known_ = true;
    down_ = settled_ = down;
    saw_it_go_down_ = false;
    if (down) down_since_ = t;
    return;
  }
  if (down == down_) return;
  down_ = down;
  if (changes_ == 0) first_change_ = t;
  last_change_ = t;
  ++changes_;
}

// The episode is over: with an even number of changes the contact is where it was, so what seemed
// a press (or a release) was as short as the episode.
void ContactStatistics::settle() {
  const Duration length = last_change_ - first_change_;
  const bool came_back = down_ == settled_;
  if (changes_ > (came_back ? 2 : 1)) {
    ++bounces_;
    bounce_lengths_.add(length.ns);
  }
  changes_most_ = std::max(changes_most_, changes_);
  if (came_back && !settled_) {
    ++presses_;
    press_lengths_.add(length.ns);
  } else if (!came_back && down_) {
    ++presses_;
    down_since_ = first_change_;
    saw_it_go_down_ = true;
  } else if (!came_back) {
    if (saw_it_go_down_) press_lengths_.add((first_change_ - *down_since_).ns);
    down_since_.reset();
  }
  settled_ = down_;
  changes_ = 0;
}

void ContactStatistics::interrupt() {
  if (changes_ > 0) settle();
  known_ = false;
  down_since_.reset();
}

ContactFigures ContactStatistics::figures(Instant now) const {
  ContactStatistics settled = *this;
  if (settled.changes_ > 0) settled.settle();
  ContactFigures figures;
  figures.presses = settled.presses_;
  figures.press_least = duration_of(settled.press_lengths_.least());
  figures.press_median = duration_of(settled.press_lengths_.median());
  figures.press_most = duration_of(settled.press_lengths_.most());
  figures.bounces = settled.bounces_;
  figures.bounce_median = duration_of(settled.bounce_lengths_.median());
  figures.bounce_most = duration_of(settled.bounce_lengths_.most());
  figures.changes_most = settled.changes_most_;
  figures.down_at_end = settled.known_ && settled.down_;
  if (figures.down_at_end && settled.down_since_)
    figures.down_for_at_end = now - *settled.down_since_;
  return figures;
}

}  // namespace understudy
