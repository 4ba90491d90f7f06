// A session's window, as the session's thread sees it: gives the exchange what passed and the views
// that are asked for, and does what the person wishes. Standard error says what it says for serve.
#pragma once

#include <memory>
#include <optional>
#include <vector>

#include "sim/app/front.h"
#include "sim/app/hand_lines.h"
#include "sim/link/waker.h"
#include "sim/window/exchange.h"

namespace understudy {

// Thread: the loop's. The window's reaches it through the exchange alone.
class WindowFront final : public Front {
 public:
  // `exchange` must outlive it. The window's thread must have ended before the loop goes.
  WindowFront(Exchange& exchange, bool quiet) : exchange_(exchange), quiet_(quiet) {}

  void attach(RunLoop& loop) override;
  void detach() override;
  [[nodiscard]] bool outlives_game() const override { return true; }
  [[nodiscard]] Instant next_wake() const override;
  void bring() override;
  void say(const Saying& saying) override;
  void say_of_game(const GameLine& line) override;
  void turned(const Turn* turn) override;
  void end() override;

 private:
  void grant(const HandWish& wish);
  void grant(const ReloadWish& wish);
  void grant(const GameWish& wish);
  void grant(const LeaveWish& wish);
  void grant(const TimelineWish& wish);
  void grant(const WordsWish& wish);
  std::optional<HandAction> meant(const TimedHand& hand, const Panel* seen) const;
  void publish();

  Exchange& exchange_;
  bool quiet_;
  RunLoop* loop_ = nullptr;
  std::unique_ptr<Waker> waker_;
  std::unique_ptr<HandLines> lines_;
  std::vector<Wish> wishes_;  // of which the first are left for the next turn
  // What each seat showed in the last view: what hands that come now were meant for.
  std::vector<std::shared_ptr<const Panel>> shown_;
  std::vector<FeedItem> passed_;
  std::vector<FeedItem> said_;
  bool full_told_ = false;
};

}  // namespace understudy
