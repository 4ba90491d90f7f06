// A running session as a window has it: on a thread of its own, reached through the exchange alone.
#pragma once

#include <gtest/gtest.h>

#include <functional>
#include <memory>
#include <string>
#include <thread>
#include <utility>
#include <vector>

#include "sim/app/run_loop.h"
#include "sim/app/window_front.h"

namespace understudy {

inline constexpr Duration kPatience = seconds(20);

inline ServeArguments quiet_tram() {
  ServeArguments arguments;
  arguments.session.panels = {UNDERSTUDY_SOURCE_ROOT "/scenarios/tram/tram.panel.toml"};
  arguments.session.quiet = true;
  arguments.tcp = "0";
  arguments.no_pty = true;
  return arguments;
}

// The test's thread is the window's. Ends the session when it goes.
class WindowSession {
 public:
  explicit WindowSession(const ServeArguments& arguments) : front_(exchange, true) {
    auto made = RunLoop::make("panel", arguments, front_);
    EXPECT_TRUE(made.ok()) << (made.ok() ? "" : made.error().text);
    loop_ = std::move(made).value();
    const auto opened = loop_->open();
    EXPECT_TRUE(opened.ok()) << (opened.ok() ? "" : opened.error().text);
    thread_ = std::thread([this] { status_ = loop_->run(); });
  }
  ~WindowSession() { leave(); }
  WindowSession(const WindowSession&) = delete;
  WindowSession& operator=(const WindowSession&) = delete;

  // As when the window was closed. Gives the session's status.
  int leave() {
    exchange.wish(LeaveWish{});
    if (thread_.joinable()) thread_.join();
    return status_;
  }

  // Asks until a view newer than now is there, keeping the feed; null after much patience.
  std::shared_ptr<const SessionView> fresh_view() {
    const auto before = exchange.view();
    exchange.ask_for_view();
    std::shared_ptr<const SessionView> view;
    EXPECT_TRUE(until([&] {
      view = exchange.view();
      return view != nullptr && view != before;
    }));
    return view;
  }
  // A view of which `holds` is true; null after much patience.
  std::shared_ptr<const SessionView> view_where(
      const std::function<bool(const SessionView&)>& holds) {
    std::shared_ptr<const SessionView> view;
    const bool found = until([&] {
      view = fresh_view();
      return view != nullptr && holds(*view);
    });
    return found ? view : nullptr;
  }
  bool until(const std::function<bool()>& done) {
    const Instant end = clock_.clock() + kPatience;
    while (!done()) {
      if (clock_.clock() > end) return false;
      collect();
      clock_.wait(clock_.clock() + milliseconds(1), {});
    }
    collect();
    return true;
  }
  void collect() {
    FeedPortion portion = exchange.take_feed();
    lost += portion.lost;
    for (FeedItem& item : portion.items) feed.push_back(std::move(item));
  }
  // What was said for people since the beginning.
  std::string words() const {
    std::string text;
    for (const FeedItem& item : feed)
      if (const auto* word = std::get_if<FedWord>(&item.what)) text += word->text + "\n";
    return text;
  }
  Instant clock() const { return clock_.clock(); }

  Exchange exchange;
  std::vector<FeedItem> feed;
  std::uint64_t lost = 0;

 private:
  Pacer clock_;  // of the test's own thread
  WindowFront front_;
  std::unique_ptr<RunLoop> loop_;
  std::thread thread_;
  int status_ = -1;
};

}  // namespace understudy
