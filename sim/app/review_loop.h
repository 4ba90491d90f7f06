// A recording in a window: plays it by the clock, goes where the person wants, and gives the
// exchange views and what passed. No links: nobody but the recorded game is there.
#pragma once

#include <chrono>
#include <optional>
#include <string>
#include <vector>

#include "sim/app/session_arguments.h"
#include "sim/link/pacer.h"
#include "sim/link/signals.h"
#include "sim/link/waker.h"
#include "sim/record/review.h"
#include "sim/window/exchange.h"

namespace understudy {

// Thread: run() on one of its own; all else before it. Made before threads are started, as it holds
// back signals for all of them.
class ReviewLoop {
 public:
  // `file` is for people. Both that follow outlive this.
  ReviewLoop(Review& review, std::string file, Exchange& exchange);
  ~ReviewLoop();
  ReviewLoop(const ReviewLoop&) = delete;
  ReviewLoop& operator=(const ReviewLoop&) = delete;

  // Where it stands when the window opens.
  void begin_at(Instant t) { go_to(t); }
  // Gives the exchange a view of where it stands, and what passed before.
  void show();
  // Until the window asks to leave, or a signal comes; gives the exit status.
  int run();

 private:
  void grant(const HandWish& wish);
  void grant(const TimelineWish& wish);
  void grant(const ReloadWish& wish);
  void grant(const GameWish&) {}
  void grant(const WordsWish&) {}
  void grant(const LeaveWish&) { left_ = true; }
  void go_to(Instant t);
  void move_on();
  void play_to(Instant t);
  void play_from_here();

  Review& review_;
  Exchange& exchange_;
  std::shared_ptr<const Timeline> whole_;
  std::vector<SeatPlan> seats_;
  Pacer pacer_;
  Signals signals_;
  Waker waker_;
  SessionOutputs outputs_;
  std::vector<FeedItem> passed_;
  bool playing_ = false;
  bool left_ = false;
  double speed_ = 1.0;
  Instant here_;     // where the recording was
  Instant started_;  // when the pacer's clock showed this
  std::optional<TimelineSpan> repeated_;
  std::uint64_t jumps_ = 0;
};

}  // namespace understudy
