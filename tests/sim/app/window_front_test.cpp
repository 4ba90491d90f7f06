// The session's side of a window: views, the feed, and wishes, with a session on its own thread and
// real links. What a window draws of it is tested in tests/sim/window.
#include "sim/app/window_front.h"

#include <fcntl.h>
#include <signal.h>
#include <unistd.h>

#include <algorithm>
#include <atomic>
#include <fstream>

#include "sim/app/panel_argument.h"
#include "sim/app/verb.h"
#include "sim/panel/panel_file.h"
#include "sim/window/link_words.h"
#include "tests/sim/app/window_session.h"
#include "tests/sim/link/tcp_game.h"

namespace understudy {
namespace {

// Of the tram desk, in the order of its file.
constexpr std::uint16_t kPower = 0;
constexpr std::uint16_t kBell = 2;

TimedHand hand(Duration after, std::uint16_t control, std::int32_t to_ppm) {
  return {after, 0, HandAction{.control = control, .to_ppm = to_ppm}};
}

std::int32_t held(const SessionView& view, std::uint16_t control) {
  return view.seats.front().device.position_ppm(control);
}

ServeArguments with_game(const std::string& script) {
  ServeArguments arguments = quiet_tram();
  arguments.game = {"sh", "-c", script};
  return arguments;
}

bool is_alive(std::int64_t pid) {
  return kill(static_cast<pid_t>(pid), 0) == 0;
}

TEST(WindowFront, AViewIsOfTheMomentInWhichItWasAskedFor) {
  WindowSession session(quiet_tram());
  const auto first = session.fresh_view();
  const auto second = session.fresh_view();
  ASSERT_TRUE(first && second);
  EXPECT_GT(second->now, first->now);
  EXPECT_EQ(second->seats.front().device.now(), second->now);
  EXPECT_EQ(second->seats.front().name, "tram");
  ASSERT_EQ(second->seats.front().links.size(), 1U);
  EXPECT_EQ(second->seats.front().links.front().name, "tcp");
  EXPECT_EQ(second->game.state, GameState::kNone);
}

// The name is the kernel's, of this very process (proc(5), /proc/PID/comm).
TEST(WindowFront, WhoIsConnectedByTcpIsToldWithProgramAndAddress) {
  WindowSession session(quiet_tram());
  const auto before = session.fresh_view();
  ASSERT_TRUE(before);
  EXPECT_EQ(before->seats.front().links.front().far_end.place, "");
  const Descriptor game = connect_to(before->seats.front().links.front().where);
  const auto view =
      session.view_where([](const SessionView& it) { return it.seats.front().links.front().open; });
  ASSERT_TRUE(view);
  sockaddr_in own{};
  socklen_t size = sizeof own;
  ASSERT_EQ(getsockname(game.get(), reinterpret_cast<sockaddr*>(&own), &size), 0);
  std::string name;
  std::getline(std::ifstream("/proc/self/comm") >> std::ws, name);
  EXPECT_EQ(game_at(view->seats.front().links.front()),
            name + " (process " + std::to_string(getpid()) +
                ") from 127.0.0.1:" + std::to_string(ntohs(own.sin_port)));
}

// An address kept for examples (RFC 5737), so never one of this machine's.
TEST(WindowFront, WhoIsOnAnotherMachineIsToldByTheAddressAlone) {
  EXPECT_EQ(game_at({.name = "tcp", .where = "", .counts = {}, .far_end = {"192.0.2.7:50123", 0}}),
            "192.0.2.7:50123");
}

TEST(WindowFront, NobodyAsksSoNothingIsCopied) {
  ServeArguments arguments = quiet_tram();
  arguments.session.play = PlayKind::kWander;
  WindowSession session(arguments);
  const auto before = session.fresh_view();
  ASSERT_TRUE(session.until([&] { return session.feed.size() > 5; }));
  EXPECT_EQ(session.exchange.view(), before);
  EXPECT_GT(session.feed.back().at, before->now);
}

TEST(WindowFront, TimeStandsStillForTheGameAndViewsComeStill) {
  ServeArguments arguments = quiet_tram();
  arguments.wait_for_game = true;
  WindowSession session(arguments);
  const auto first = session.fresh_view();
  const auto second = session.fresh_view();
  ASSERT_TRUE(first && second);
  EXPECT_LT(second->now - first->now, milliseconds(1));
}

TEST(WindowFront, AHandGoesIntoTheSessionStampedAndComesBackInTheFeed) {
  WindowSession session(quiet_tram());
  const auto before = session.fresh_view();
  session.exchange.wish(HandWish{.hands = {hand({}, kBell, kFullTravel)}});
  const auto after =
      session.view_where([](const SessionView& view) { return held(view, kBell) == kFullTravel; });
  ASSERT_TRUE(before && after);
  const auto fed = std::find_if(session.feed.begin(), session.feed.end(), [](const FeedItem& item) {
    const auto* input = std::get_if<FedInput>(&item.what);
    return input != nullptr && std::holds_alternative<HandAction>(input->input.what);
  });
  ASSERT_NE(fed, session.feed.end());
  EXPECT_GT(fed->at, before->now);
  EXPECT_LE(fed->at, after->now);
}

TEST(WindowFront, ANewerHandTakesThePlaceOfWhatWasPlannedOnlyWhereItIsSaidSo) {
  for (const bool instead : {true, false}) {
    WindowSession session(quiet_tram());
    const Duration later_on = milliseconds(300);
    session.exchange.wish(
        HandWish{.hands = {hand({}, kBell, kFullTravel), hand(later_on, kBell, 0)}});
    session.exchange.wish(HandWish{.hands = {hand({}, kPower, kFullTravel)}});  // another control
    const auto down = session.view_where(
        [](const SessionView& view) { return held(view, kBell) == kFullTravel; });
    ASSERT_TRUE(down);
    session.exchange.wish(HandWish{.hands = {hand({}, kBell, kFullTravel)}, .instead = instead});
    const auto at_last = session.view_where([&](const SessionView& view) {
      return view.now > down->now + later_on + milliseconds(100);
    });
    ASSERT_TRUE(at_last);
    EXPECT_EQ(held(*at_last, kBell), instead ? kFullTravel : 0);
  }
}

TEST(WindowFront, AHandForWhatIsNotThereMovesNothingAndIsTold) {
  WindowSession session(quiet_tram());
  session.exchange.wish(HandWish{.hands = {hand({}, kBell, kFullTravel), hand({}, 99, 0)}});
  session.exchange.wish(HandWish{.hands = {{{}, 7, HandAction{}}}});
  session.exchange.wish(HandWish{.hands = {{{}, 0, HandAction{.control = kBell, .part = 9}}}});
  ASSERT_TRUE(session.until([&] { return !session.words().empty(); }));
  EXPECT_NE(session.words().find("not on this panel"), std::string::npos);
  EXPECT_EQ(held(*session.fresh_view(), kBell), 0);
}

TEST(WindowFront, TooManyHandsAreToldOnceAndTheSessionGoesOn) {
  WindowSession session(quiet_tram());
  const std::vector<TimedHand> many(kHandsWaitingMax / 2 + 1, hand(seconds(900), kBell, 0));
  for (int i = 0; i < 4; ++i) session.exchange.wish(HandWish{.hands = many, .instead = false});
  ASSERT_TRUE(session.until([&] { return !session.words().empty(); }));
  session.fresh_view();
  session.collect();
  EXPECT_EQ(session.words(), "too many hands wait already; let some come first\n");
}

TEST(WindowFront, WhatComesFasterThanTheSessionTakesIsRefusedInWordsAndTheSessionGoesOn) {
  WindowSession session(quiet_tram());
  ASSERT_TRUE(session.until([&] {
    for (std::size_t i = 0; i < 20 * kWishesMax; ++i)
      session.exchange.wish(HandWish{.hands = {}, .instead = false});
    return !session.words().empty();
  }));
  EXPECT_NE(session.words().find("the session stood still"), std::string::npos) << session.words();
  ASSERT_TRUE(session.until(
      [&] { return session.exchange.wish(HandWish{.hands = {hand({}, kBell, kFullTravel)}}); }));
  EXPECT_TRUE(
      session.view_where([](const SessionView& view) { return held(view, kBell) == kFullTravel; }));
}

TEST(WindowFront, BytesBothWaysPassInTheOrderOfTheirTimes) {
  WindowSession session(quiet_tram());
  const auto view = session.fresh_view();
  ASSERT_TRUE(view);
  const Descriptor game = connect_to(view->seats.front().links.front().where);
  const std::string line = "255,0,0,7,34,130\n";
  bool lit = false;
  std::size_t to_game = 0;
  ASSERT_TRUE(session.until([&] {
    if (!lit && to_game > 0)  // the board has started
      lit = ::write(game.get(), line.data(), line.size()) > 0;
    to_game = 0;
    bool changed = false;
    for (const FeedItem& item : session.feed) {
      const auto* bytes = std::get_if<FedBytes>(&item.what);
      if (bytes != nullptr && bytes->to_game) to_game += bytes->bytes.size();
      changed = changed || std::holds_alternative<FedChange>(item.what);
    }
    return changed;
  }));
  EXPECT_TRUE(std::is_sorted(session.feed.begin(), session.feed.end(),
                             [](const FeedItem& a, const FeedItem& b) { return a.at < b.at; }));
  std::string from_game;
  for (const FeedItem& item : session.feed)
    if (const auto* bytes = std::get_if<FedBytes>(&item.what); bytes && !bytes->to_game)
      from_game += bytes->bytes;
  EXPECT_EQ(from_game, line);
  EXPECT_NE(session.words().find("tram: the game opened tcp"), std::string::npos);
  const auto open = session.fresh_view();
  EXPECT_TRUE(open->seats.front().links.front().open);
  EXPECT_EQ(open->seats.front().links.front().counts.bytes_to_panel, line.size());
  EXPECT_TRUE(open->seats.front().observer.connected());
}

TEST(WindowFront, AGameIsStoppedAndStartedAgainAndTheSessionOutlivesIt) {
  WindowSession session(with_game("echo here; exec sleep 60"));
  const auto said = [&](std::ptrdiff_t times) {
    const auto here = [](const FeedItem& item) {
      const auto* line = std::get_if<FedGameLine>(&item.what);
      return line != nullptr && line->text == "here" && !line->error;
    };
    return session.until(
        [&] { return std::count_if(session.feed.begin(), session.feed.end(), here) == times; });
  };
  const auto runs_but_not = [&](std::int64_t pid) {
    return session.view_where([&](const SessionView& view) {
      return view.game.state == GameState::kRunning && view.game.pid != pid;
    });
  };
  const auto first = runs_but_not(0);
  ASSERT_TRUE(first);
  EXPECT_EQ(first->game.command, "sh -c echo here; exec sleep 60");
  EXPECT_TRUE(is_alive(first->game.pid));
  EXPECT_TRUE(said(1));
  session.exchange.wish(GameWish{GameOrder::kStop});
  const auto stopped = session.view_where(
      [](const SessionView& view) { return view.game.state == GameState::kEnded; });
  ASSERT_TRUE(stopped);
  EXPECT_EQ(stopped->game.ended, "was stopped");
  EXPECT_TRUE(stopped->game.ended_well);
  session.exchange.wish(GameWish{GameOrder::kStart});
  const auto second = runs_but_not(first->game.pid);
  ASSERT_TRUE(second);
  EXPECT_TRUE(said(2));
  session.exchange.wish(GameWish{GameOrder::kStart});
  const auto third = runs_but_not(second->game.pid);
  ASSERT_TRUE(third);
  EXPECT_FALSE(is_alive(second->game.pid));
  EXPECT_TRUE(said(3));
  EXPECT_EQ(session.leave(), kStatusFine);
  EXPECT_FALSE(is_alive(third->game.pid));
}

TEST(WindowFront, HowAGameEndedIsShownWithItsLastWords) {
  WindowSession session(with_game("echo alas >&2; exit 3"));
  const auto ended = session.view_where(
      [](const SessionView& view) { return view.game.state == GameState::kEnded; });
  ASSERT_TRUE(ended);
  EXPECT_EQ(ended->game.ended, "ended with status 3");
  EXPECT_FALSE(ended->game.ended_well);
  ASSERT_TRUE(session.until([&] { return !session.words().empty(); }));
  EXPECT_EQ(session.words(), "the game ended with status 3\n");
  const auto alas = [](const FeedItem& item) {
    const auto* line = std::get_if<FedGameLine>(&item.what);
    return line != nullptr && line->text == "alas" && line->error;
  };
  EXPECT_EQ(std::count_if(session.feed.begin(), session.feed.end(), alas), 1);
  EXPECT_GT(session.fresh_view()->now, ended->now);
  EXPECT_EQ(session.leave(), kStatusFine);
}

TEST(WindowFront, AGameThatDoesNotWantToEndHoldsNothingUp) {
  WindowSession session(with_game("trap '' TERM; echo ready; while :; do sleep 1 & wait; done"));
  ASSERT_TRUE(session.until([&] { return !session.feed.empty(); }));  // "ready"
  const Instant asked = session.clock();
  session.exchange.wish(GameWish{GameOrder::kStop});
  Duration longest;
  bool running = true;
  while (running && session.clock() < asked + kPatience) {
    const Instant before = session.clock();
    running = session.fresh_view()->game.state == GameState::kRunning;
    longest = std::max(longest, session.clock() - before);
  }
  EXPECT_FALSE(running);
  EXPECT_GE(session.clock() - asked, milliseconds(1'900));
  EXPECT_LT(longest, milliseconds(1'000));  // of a blocking stop it would be two seconds
}

TEST(WindowFront, WishesForAGameThatIsNotThereAreAnsweredInWords) {
  WindowSession session(quiet_tram());
  session.exchange.wish(GameWish{GameOrder::kStart});
  session.exchange.wish(GameWish{GameOrder::kStop});
  ASSERT_TRUE(
      session.until([&] { return session.words().find("no game to end") != std::string::npos; }));
  EXPECT_NE(session.words().find("no game to start"), std::string::npos);
}

TEST(WindowFront, TheEndOfItsTimeEndsTheWindow) {
  ServeArguments arguments = quiet_tram();
  arguments.session.length = milliseconds(100);
  WindowSession session(arguments);
  EXPECT_TRUE(session.until([&] { return session.exchange.session_over(); }));
  EXPECT_EQ(session.leave(), kStatusFine);
}

std::shared_ptr<const Panel> panel_with(const std::vector<std::string>& switches) {
  std::string text = "panel = \"Switches\"\n";
  for (const std::string& name : switches)
    text += "[[control]]\nname = \"" + name + "\"\nkind = \"switch\"\n";
  auto panel = parse_panel(text, "switches.panel.toml");
  EXPECT_TRUE(panel.ok()) << (panel.ok() ? "" : panel.error().text);
  return panel.value();
}

bool is_on(const SessionView& view, const std::string& name) {
  const auto& controls = view.seats.front().device.panel().description.controls;
  for (std::size_t i = 0; i < controls.size(); ++i)
    if (controls[i].name == name) return held(view, static_cast<std::uint16_t>(i)) == kFullTravel;
  return false;
}

TEST(WindowFront, AfterAReloadHandsMoveTheControlOfTheSameNameOrAreForgotten) {
  WindowSession session(quiet_tram());
  const std::shared_ptr<const Panel> one = panel_with({"lamp", "fan", "pump"});
  session.exchange.wish(ReloadWish{.seat = 0, .path = "one.panel.toml", .panel = one});
  ASSERT_TRUE(session.view_where(
      [](const SessionView& view) { return view.seats.front().path == "one.panel.toml"; }));
  // Planned for later, for now, and seen on the panel before: lamp is 0 and pump is 2.
  session.exchange.wish(HandWish{
      .hands = {hand(milliseconds(200), 0, kFullTravel), hand(milliseconds(200), 1, kFullTravel)}});
  session.exchange.wish(ReloadWish{
      .seat = 0, .path = "two.panel.toml", .panel = panel_with({"pump", "bell", "lamp"})});
  session.exchange.wish(HandWish{.hands = {hand({}, 2, kFullTravel)}, .seen = one});
  const auto after = session.view_where(
      [](const SessionView& view) { return is_on(view, "lamp") && is_on(view, "pump"); });
  ASSERT_TRUE(after);
  EXPECT_FALSE(is_on(*after, "bell"));
  EXPECT_EQ(after->seats.front().path, "two.panel.toml");
  session.collect();
  EXPECT_EQ(session.words(), "tram: a movement planned for controls that are gone is forgotten\n");
  const auto reloads =
      std::count_if(session.feed.begin(), session.feed.end(), [](const FeedItem& item) {
        const auto* input = std::get_if<FedInput>(&item.what);
        return input != nullptr && std::holds_alternative<PanelReloaded>(input->input.what);
      });
  EXPECT_EQ(reloads, 2);
}

TEST(WindowFront, AReloadOfASeatThatIsNotThereIsTold) {
  WindowSession session(quiet_tram());
  session.exchange.wish(ReloadWish{.seat = 7, .path = "x", .panel = panel_with({"lamp"})});
  session.exchange.wish(ReloadWish{.seat = 0, .path = "x", .panel = nullptr});
  ASSERT_TRUE(session.until([&] { return !session.words().empty(); }));
  EXPECT_NE(session.words().find("does not have"), std::string::npos);
  EXPECT_NE(session.fresh_view()->seats.front().path, "x");
}

// For the thread sanitizer: everything at once, as fast as it goes.
TEST(WindowFront, ViewsHandsReloadsTheGameAndItsLinesGoTogether) {
  ServeArguments arguments = with_game("while :; do echo tick; sleep 0.01; done");
  arguments.session.play = PlayKind::kWander;
  WindowSession session(arguments);
  const auto view = session.fresh_view();
  ASSERT_TRUE(view);
  const std::shared_ptr<const Panel> tram =
      load_panel_argument(UNDERSTUDY_SOURCE_ROOT "/scenarios/tram/tram.panel.toml").value();
  const std::shared_ptr<const Panel> other = panel_with({"power", "bell"});
  std::atomic<bool> done = false;
  std::atomic<std::size_t> got = 0;
  std::thread client([&, where = view->seats.front().links.front().where] {
    const Descriptor game = connect_to(where);
    const std::string line = "255,0,0,7,34,130\n";
    char buffer[4'096];
    while (!done) {
      const ssize_t count = ::read(game.get(), buffer, sizeof buffer);
      if (count > 0 && ::write(game.get(), line.data(), line.size()) > 0)
        got += static_cast<std::size_t>(count);
    }
  });
  Instant last;
  int turns = 0;
  EXPECT_TRUE(session.until([&] {
    const auto now = session.fresh_view();
    EXPECT_GT(now->now, last);
    last = now->now;
    session.exchange.wish(HandWish{.hands = {hand({}, kPower, turns % 2 * kFullTravel)}});
    if (turns < 200 && turns % 50 == 25)  // then it is left in peace, as its board must start
      session.exchange.wish(
          ReloadWish{.seat = 0, .path = "again", .panel = turns % 100 == 25 ? other : tram});
    if (++turns % 100 == 50) session.exchange.wish(GameWish{GameOrder::kStart});
    return got > 100 && turns > 500;
  }));
  done = true;
  client.join();
  EXPECT_EQ(session.lost, 0U);
  EXPECT_EQ(session.leave(), kStatusFine);
}

}  // namespace
}  // namespace understudy
