// Every call holds the lock for as long as a list or pointer changes hands, and wakes outside it.
#include "sim/window/exchange.h"

#include <iterator>
#include <utility>

namespace understudy {

void Exchange::set_session_waker(std::function<void()> wake_session) {
  const std::lock_guard lock(mutex_);
  wake_session_ = std::move(wake_session);
}

void Exchange::set_window_waker(std::function<void()> wake_window) {
  const std::lock_guard lock(mutex_);
  wake_window_ = std::move(wake_window);
}

std::shared_ptr<const SessionView> Exchange::view() const {
  const std::lock_guard lock(mutex_);
  return view_;
}

void Exchange::ask_for_view() {
  std::function<void()> wake;
  {
    const std::lock_guard lock(mutex_);
    if (wanted_) return;
    wanted_ = true;
    wake = wake_session_;
  }
  if (wake) wake();
}

FeedPortion Exchange::take_feed() {
  FeedPortion portion;
  const std::lock_guard lock(mutex_);
  portion.items.swap(items_);
  portion.lost = std::exchange(lost_, 0);
  return portion;
}

void Exchange::wish(Wish wish) {
  std::function<void()> wake;
  {
    const std::lock_guard lock(mutex_);
    wishes_.push_back(std::move(wish));
    wake = wake_session_;
  }
  if (wake) wake();
}

bool Exchange::session_over() const {
  const std::lock_guard lock(mutex_);
  return over_;
}

bool Exchange::view_wanted() const {
  const std::lock_guard lock(mutex_);
  return wanted_;
}

void Exchange::publish(std::shared_ptr<const SessionView> view) {
  std::function<void()> wake;
  {
    const std::lock_guard lock(mutex_);
    view_.swap(view);
    wanted_ = false;
    wake = wake_window_;
  }
  if (wake) wake();  // the view before is freed after this, outside the lock
}

void Exchange::feed(std::vector<FeedItem> items) {
  const std::lock_guard lock(mutex_);
  items_.insert(items_.end(), std::make_move_iterator(items.begin()),
                std::make_move_iterator(items.end()));
  if (items_.size() <= kFeedItemsMax) return;
  const std::size_t excess = items_.size() - kFeedItemsMax / 2;
  items_.erase(items_.begin(), items_.begin() + static_cast<std::ptrdiff_t>(excess));
  lost_ += excess;
}

std::vector<Wish> Exchange::take_wishes() {
  std::vector<Wish> wishes;
  const std::lock_guard lock(mutex_);
  wishes.swap(wishes_);
  return wishes;
}

void Exchange::end_session() {
  std::function<void()> wake;
  {
    const std::lock_guard lock(mutex_);
    over_ = true;
    wake = wake_window_;
  }
  if (wake) wake();
}

}  // namespace understudy
