// Feeds after each step, publishes where a view is wanted, and grants wishes before each step.
#include "sim/app/window_front.h"

#include <algorithm>
#include <cstdio>
#include <iterator>
#include <utility>

#include "sim/app/run_loop.h"
#include "sim/app/window_feed.h"
#include "sim/model/kinds.h"
#include "sim/model/panel_change.h"

namespace understudy {
namespace {

std::vector<LinkView> links_of(const SeatLinks& links) {
  std::vector<LinkView> views;
  for (const std::unique_ptr<Link>& link : links.links())
    views.push_back({.name = std::string(link->name()),
                     .where = link->where(),
                     .open = link->open(),
                     .counts = link->counts(),
                     .far_end = link->far_end()});
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

bool is_there(const HandAction& hand, const Panel& panel) {
  const auto& controls = panel.description.controls;
  return hand.control < controls.size() && hand.part < hand_parts(controls[hand.control]).size();
}

}  // namespace

void WindowFront::attach(RunLoop& loop) {
  loop_ = &loop;
  for (const SeatPlan& seat : loop.seats()) shown_.push_back(seat.panel);
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
  lines_->bring();
  if (exchange_.take_refused() > 0)
    say({.text = "the session stood still; what was done at the window last is lost"});
  if (wishes_.empty()) wishes_ = exchange_.take_wishes();
  std::size_t granted = 0;
  bool reloaded = false;
  while (granted < wishes_.size() && !reloaded) {
    const Wish& wish = wishes_[granted++];
    reloaded = std::holds_alternative<ReloadWish>(wish);
    std::visit([this](const auto& one) { grant(one); }, wish);
  }
  wishes_.erase(wishes_.begin(), wishes_.begin() + static_cast<std::ptrdiff_t>(granted));
  if (!wishes_.empty()) waker_->wake();
}

// The panel may be another one by now than the one that the hand was seen to reach for.
std::optional<HandAction> WindowFront::meant(const TimedHand& hand, const Panel* seen) const {
  if (hand.seat >= shown_.size()) return std::nullopt;
  const Panel& now = *loop_->seats()[hand.seat].panel;
  const Panel& shown = seen != nullptr ? *seen : *shown_[hand.seat];
  if (!is_there(hand.action, shown)) return std::nullopt;
  return &now == &shown ? hand.action : hand_on(now.description, hand.action, shown.description);
}

void WindowFront::grant(const HandWish& wish) {
  std::vector<TimedHand> hands = wish.hands;
  for (TimedHand& hand : hands) {
    const auto action = meant(hand, wish.seen.get());
    if (!action)
      return say({.text = "a hand reached for a control that is not on this panel any more"});
    hand.action = *action;
  }
  const Instant now = loop_->pacer().next();
  if (wish.instead)
    for (const TimedHand& hand : hands) loop_->hands().forget(place_of(hand));
  const bool full = !loop_->hands().add(now, hands);
  if (full && !full_told_) say({.text = "too many hands wait already; let some come first"});
  full_told_ = full;
}

void WindowFront::grant(const ReloadWish& wish) {
  if (wish.panel == nullptr || wish.seat >= loop_->seats().size())
    return say({.text = "a panel was read for a seat that this session does not have"});
  loop_->reload(wish.seat, wish.path, wish.panel);
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

// A session that goes on has no time line, so the window asks for nothing of it.
void WindowFront::grant(const TimelineWish&) {}

void WindowFront::grant(const WordsWish& wish) {
  if (const auto wrong = loop_->obey(wish.words)) say({.text = wrong->text});
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
  for (std::size_t i = 0; i < view->seats.size(); ++i) {
    view->seats[i].links = links_of(loop_->links()[i]);
    view->seats[i].source = loop_->session().source(i);
  }
  if (const BoxRun* box = loop_->box()) {
    view->seats.front().box = box->port().where();
    view->seats.front().box_lost = !box->port().there();
  }
  view->speed = loop_->arguments().speed;
  view->game = view_of(loop_->game());
  view->environment = loop_->environment();
  view->recording = loop_->recording();
  shown_.clear();
  for (const SeatPlan& seat : loop_->seats()) shown_.push_back(seat.panel);
  exchange_.publish(std::move(view));
}

void WindowFront::end() {
  lines_->tell(true);
  exchange_.end_session();
}

}  // namespace understudy
