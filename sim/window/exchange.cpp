// Every call holds the lock for as long as a list or pointer changes hands, and wakes outside it.
#include "sim/window/exchange.h"

#include <algorithm>
#include <iterator>
#include <utility>

namespace understudy {
namespace {

// The hand of a wish that a later one may stand in for: one move on its way from now on.
const TimedHand* replaceable_move(const Wish& wish) {
  const auto* hands = std::get_if<HandWish>(&wish);
  if (hands == nullptr || !hands->instead || hands->hands.size() != 1) return nullptr;
  const TimedHand& hand = hands->hands.front();
  return hand.after.ns == 0 && hand.action.duration.ns != 0 ? &hand : nullptr;
}

bool same_part(const TimedHand& a, const TimedHand& b) {
  return a.seat == b.seat && a.action.control == b.action.control && a.action.part == b.action.part;
}

// Whether anything in `wish` is for the same part, so that it must not be overtaken.
bool touches(const Wish& wish, const TimedHand& hand) {
  const auto* hands = std::get_if<HandWish>(&wish);
  if (hands == nullptr) return true;
  return std::any_of(hands->hands.begin(), hands->hands.end(),
                     [&](const TimedHand& one) { return same_part(one, hand); });
}

// Puts a move in the place of the last one of its part; false where there is none to replace.
bool replace_move(std::vector<Wish>& waiting, Wish& wish) {
  const TimedHand* move = replaceable_move(wish);
  if (move == nullptr) return false;
  const auto last = std::find_if(waiting.rbegin(), waiting.rend(),
                                 [&](const Wish& one) { return touches(one, *move); });
  const TimedHand* before = last == waiting.rend() ? nullptr : replaceable_move(*last);
  if (before == nullptr || std::get<HandWish>(*last).seen != std::get<HandWish>(wish).seen)
    return false;
  *last = std::move(wish);
  return true;
}

}  // namespace

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

bool Exchange::wish(Wish wish) {
  std::function<void()> wake;
  {
    const std::lock_guard lock(mutex_);
    if (!replace_move(wishes_, wish)) {
      if (wishes_.size() >= kWishesMax && !std::holds_alternative<LeaveWish>(wish)) {
        ++refused_;
        return false;
      }
      wishes_.push_back(std::move(wish));
    }
    wake = wake_session_;
  }
  if (wake) wake();
  return true;
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

std::size_t Exchange::take_refused() {
  const std::lock_guard lock(mutex_);
  return std::exchange(refused_, 0);
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
