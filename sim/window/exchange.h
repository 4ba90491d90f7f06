// Where the session's thread and the window's meet. Neither ever waits for the other for longer
// than a pointer or a list takes to change hands.
#pragma once

#include <functional>
#include <memory>
#include <mutex>
#include <vector>

#include "sim/window/feed.h"
#include "sim/window/session_view.h"
#include "sim/window/wishes.h"

namespace understudy {

// What waits for a session that stands still; more is refused, but for leaving.
inline constexpr std::size_t kWishesMax = 1'000;

class Exchange {
 public:
  // Each thread says how it is woken; the other calls it, and it must be quick and callable from
  // any thread. One call may still come while it is being replaced. Empty: it looks by itself.
  void set_session_waker(std::function<void()> wake_session);
  void set_window_waker(std::function<void()> wake_window);

  // ---- the window's thread ----
  // The newest view; null before the first. Never older than the last one taken.
  [[nodiscard]] std::shared_ptr<const SessionView> view() const;
  // Asks for a newer one: the session's thread is woken, steps to now and publishes.
  void ask_for_view();
  [[nodiscard]] FeedPortion take_feed();
  // Wakes the session's thread. A move that takes time goes in place of one of the same part that
  // was not taken yet; what is done at once (a press) is never left out for a later one. False:
  // refused, as kWishesMax wait already.
  bool wish(Wish wish);
  // The session is over (a signal, its time, a link failed for good); the window closes.
  [[nodiscard]] bool session_over() const;

  // ---- the session's thread ----
  [[nodiscard]] bool view_wanted() const;
  void publish(std::shared_ptr<const SessionView> view);  // wakes the window
  void feed(std::vector<FeedItem> items);                 // takes them; does not wake the window
  [[nodiscard]] std::vector<Wish> take_wishes();
  // How many were refused since this was asked last.
  [[nodiscard]] std::size_t take_refused();
  void end_session();  // wakes the window

 private:
  mutable std::mutex mutex_;
  std::function<void()> wake_session_;
  std::function<void()> wake_window_;
  std::shared_ptr<const SessionView> view_;
  std::vector<FeedItem> items_;
  std::vector<Wish> wishes_;
  std::size_t refused_ = 0;
  std::uint64_t lost_ = 0;
  bool wanted_ = true;
  bool over_ = false;
};

}  // namespace understudy
