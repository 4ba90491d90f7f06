// Feeds after each step, publishes where a view is wanted, and grants wishes before each step.
#include "sim/app/window_front.h"

#include <algorithm>
#include <cstdio>
#include <iterator>
#include <utility>

#include "sim/app/run_loop.h"
#include "sim/app/window_feed.h"
#include "sim/model/kinds.h"

namespace understudy {
namespace {

std::vector<LinkView> links_of(const SeatLinks& links) {
  std::vector<LinkView> views;
  for (const std::unique_ptr<Link>& link : links.links())
    views.push_back({.name = std::string(link->name()),
                     .where = link->where(),
                     .open = link->open(),
                     .counts = link->counts()});
  return views;
}

GameView view_of(const GameRun& game) {
  if (!game.there()) return {};
  const bool runs = game.running();
  return {.state = runs ? GameState::kRunning : GameState::kEnded,
          .command = game.command(),
          .pid = game.pid(),
          .ended = runs ? "" : game.ended_words(),
          .ended_well = runs || game.ended_well()};
}

HandPlace place_of(const TimedHand& hand) {
  return {.seat = hand.seat, .control = hand.action.control, .part = hand.action.part};
}

// The panel may be another one by the time that a hand comes.
bool is_there(const TimedHand& hand, const Session& session) {
  if (hand.seat >= session.seat_count()) return false;
  const auto& controls = session.panel(hand.seat).description.controls;
  return hand.action.control < controls.size() &&
         hand.action.part < hand_parts(controls[hand.action.control]).size();
}

}  // namespace

void WindowFront::attach(RunLoop& loop) {
  loop_ = &loop;
  waker_ = std::make_unique<Waker>(loop.pacer());
  lines_ = std::make_unique<HandLines>(loop);
  exchange_.set_session_waker([waker = waker_.get()] { waker->wake(); });
}

void WindowFront::detach() {
  exchange_.set_session_waker({});
  waker_.reset();
  lines_.reset();
}

Instant WindowFront::next_wake() const {
  return lines_->next_due();
}

void WindowFront::bring() {
  waker_->take();
  for (const Wish& wish : exchange_.take_wishes())
    std::visit([this](const auto& one) { grant(one); }, wish);
  lines_->bring();
}

void WindowFront::grant(const HandWish& wish) {
  const auto there = [this](const TimedHand& hand) { return is_there(hand, loop_->session()); };
  if (!std::all_of(wish.hands.begin(), wish.hands.end(), there))
    return say({.text = "a hand reached for a control that is not on this panel any more"});
  const Instant now = loop_->pacer().next();
  if (wish.instead)
    for (const TimedHand& hand : wish.hands) loop_->hands().forget(place_of(hand));
  const bool full = !loop_->hands().add(now, wish.hands);
  if (full && !full_told_) say({.text = "too many hands wait already; let some come first"});
  full_told_ = full;
}

void WindowFront::grant(const ReloadWish& wish) {
  say({.text = "the panel file was read, and is taken when the session begins anew",
       .seat = wish.seat});
}

void WindowFront::grant(const GameWish& wish) {
  if (wish.order == GameOrder::kStart)
    loop_->start_game();
  else
    loop_->end_game();
}

void WindowFront::grant(const LeaveWish&) {
  loop_->leave();
}

void WindowFront::say(const Saying& saying) {
  said_.push_back(
      {loop_->session().now(), saying.seat.value_or(0), FedWord{loop_->written(saying)}});
  if (!quiet_) std::fputs((loop_->written(saying) + "\n").c_str(), stderr);
}

void WindowFront::say_of_game(const GameLine& line) {
  said_.push_back({loop_->session().now(), 0, FedGameLine{line.error, line.text}});
  if (!quiet_) std::fputs(("game: " + line.text + "\n").c_str(), stderr);
}

void WindowFront::turned(const Turn* turn) {
  lines_->tell(false);
  if (turn != nullptr) add_passed(*turn, passed_);
  passed_.insert(passed_.end(), std::make_move_iterator(said_.begin()),
                 std::make_move_iterator(said_.end()));
  said_.clear();
  if (!passed_.empty()) {
    put_in_order(passed_);
    exchange_.feed(std::exchange(passed_, {}));
  }
  if (exchange_.view_wanted()) publish();
}

void WindowFront::publish() {
  auto view = understudy::view_of(loop_->session(), loop_->seats());
  for (std::size_t i = 0; i < view->seats.size(); ++i)
    view->seats[i].links = links_of(loop_->links()[i]);
  view->speed = loop_->arguments().speed;
  view->game = view_of(loop_->game());
  view->environment = loop_->environment();
  view->recording = loop_->recording();
  exchange_.publish(std::move(view));
}

void WindowFront::end() {
  lines_->tell(true);
  exchange_.end_session();
}

}  // namespace understudy
