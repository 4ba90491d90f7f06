// Time goes on only while it plays; a place that is sought is shown with what passed shortly
// before.
#include "sim/app/review_loop.h"

#include <algorithm>
#include <utility>

#include "sim/app/window_feed.h"

namespace understudy {
namespace {

constexpr Duration kStep = milliseconds(8);  // between steps while it plays
constexpr Duration kBefore = seconds(30);  // what charts and lines show of the time before a place
constexpr Duration kPortion = milliseconds(250);

std::shared_ptr<const Timeline> timeline_of(const Review& review, std::string file) {
  auto whole = std::make_shared<Timeline>();
  whole->file = std::move(file);
  whole->length = review.length();
  whole->remark = review.remark();
  for (const ReviewMark& mark : review.marks()) whole->marks.push_back({mark.at, mark.text});
  for (const ReviewBin& bin : review.overview()) whole->bins.push_back({bin.hands, bin.changes});
  return whole;
}

}  // namespace

ReviewLoop::ReviewLoop(Review& review, std::string file, Exchange& exchange)
    : review_(review),
      exchange_(exchange),
      whole_(timeline_of(review, std::move(file))),
      signals_(pacer_),
      waker_(pacer_) {
  for (std::size_t i = 0; i < review.session().seat_count(); ++i)
    seats_.push_back({review.session().name(i), "", review.session().shared_panel(i)});
  exchange_.set_session_waker([this] { waker_.wake(); });
}

ReviewLoop::~ReviewLoop() {
  exchange_.set_session_waker({});
}

int ReviewLoop::run() {
  std::optional<int> signal;
  show();
  while (!left_ && !signal) {
    pacer_.wait(playing_ ? pacer_.clock() + kStep : kNever, {});
    waker_.take();
    signal = signals_.take();
    move_on();
    for (const Wish& wish : exchange_.take_wishes())
      std::visit([this](const auto& one) { grant(one); }, wish);
    if (exchange_.view_wanted()) show();
  }
  exchange_.end_session();
  return signal ? 128 + *signal : 0;
}

void ReviewLoop::play_from_here() {
  here_ = review_.now();
  started_ = pacer_.clock();
}

void ReviewLoop::move_on() {
  if (!playing_) return;
  const auto passed = static_cast<double>((pacer_.clock() - started_).ns);
  Instant until = here_ + Duration{static_cast<std::int64_t>(passed * speed_)};
  if (repeated_ && until >= repeated_->to) {
    play_to(repeated_->to);
    return go_to(repeated_->from);
  }
  play_to(until);
  if (review_.now() >= review_.length()) playing_ = false;
}

void ReviewLoop::play_to(Instant t) {
  review_.play(t, outputs_);
  if (outputs_.seats.empty()) return;
  add_passed({.inputs = review_.inputs(), .outputs = outputs_, .handed_over = review_.now()},
             passed_);
}

// With what passed before it, so that charts and lines are not empty.
void ReviewLoop::go_to(Instant t) {
  t = later(Instant{}, earlier(t, review_.length()));
  ++jumps_;
  passed_.clear();
  review_.seek(later(Instant{}, t - kBefore));
  while (review_.now() < t) play_to(earlier(t, review_.now() + kPortion));
  play_from_here();
}

void ReviewLoop::grant(const TimelineWish& wish) {
  switch (wish.order) {
    case TimelineOrder::kPlay:
      if (review_.now() >= review_.length()) go_to({});
      playing_ = true;
      return play_from_here();
    case TimelineOrder::kPause:
      playing_ = false;
      return;
    case TimelineOrder::kSeek:
      return go_to(wish.at);
    case TimelineOrder::kNextLine:
    case TimelineOrder::kLineBefore:
      playing_ = false;
      wish.order == TimelineOrder::kNextLine ? review_.seek_next_line(wish.seat)
                                             : review_.seek_line_before(wish.seat);
      return go_to(review_.now());
    case TimelineOrder::kRepeat:
      repeated_.reset();
      if (wish.to > wish.at) repeated_ = TimelineSpan{wish.at, wish.to};
      if (repeated_) go_to(repeated_->from);
      return;
    case TimelineOrder::kSpeed:
      speed_ = std::clamp(wish.speed, 0.01, 100.0);
      return play_from_here();
  }
}

// While it stands still, movements take no time, and time goes on by just so much that they are
// seen.
void ReviewLoop::grant(const HandWish& wish) {
  for (const TimedHand& hand : wish.hands) {
    if (hand.seat >= review_.session().seat_count()) continue;
    const auto& panel = review_.session().shared_panel(hand.seat);
    if (wish.seen != nullptr && wish.seen != panel) continue;  // of another place of the recording
    HandAction action = hand.action;
    if (!playing_) action.duration = {};
    review_.take_over(hand.seat, action, playing_ ? hand.after : Duration{});
  }
  if (playing_) return;
  play_to(review_.now() + microseconds(2));
  play_from_here();
}

void ReviewLoop::grant(const ReloadWish&) {
  passed_.push_back(
      {review_.now(), 0, FedWord{"the panel of a recording stays as it was recorded"}});
}

void ReviewLoop::show() {
  put_in_order(passed_);
  exchange_.feed(std::exchange(passed_, {}));
  for (std::size_t i = 0; i < seats_.size(); ++i)
    seats_[i].panel = review_.session().shared_panel(i);
  auto view = view_of(review_.session(), seats_);
  for (std::size_t i = 0; i < seats_.size(); ++i)
    view->seats[i].source = review_.session().source(i);
  view->speed = speed_;
  view->timeline = TimelineView{.whole = whole_,
                                .playing = playing_,
                                .speed = speed_,
                                .repeated = repeated_,
                                .taken_over = review_.taken_over(),
                                .jumps = jumps_};
  exchange_.publish(std::move(view));
}

}  // namespace understudy
