// What the loop tells and asks, put on a Terminal.
#include "sim/app/terminal_front.h"

#include <unistd.h>

#include "sim/app/run_loop.h"
#include "sim/app/status_text.h"

namespace understudy {
namespace {

constexpr Duration kShowPeriod = milliseconds(200);
constexpr char kBoxKey = 'B' - '@';  // the control key with it

}  // namespace

void TerminalFront::attach(RunLoop& loop) {
  loop_ = &loop;
  terminal_ = std::make_unique<Terminal>(!quiet_);
  keys_ = std::make_unique<KeyHands>(loop.session());
  if (terminal_->interactive())
    keys_in_ = std::make_unique<BytesIn>(loop.pacer(), STDIN_FILENO);
  else
    lines_ = std::make_unique<HandLines>(loop);
}

void TerminalFront::detach() {
  keys_in_.reset();
  lines_.reset();
}

Instant TerminalFront::next_wake() const {
  return terminal_->interactive() ? next_show_ : lines_->next_due();
}

void TerminalFront::bring() {
  if (lines_) return lines_->bring();
  const std::string typed = keys_in_->take();
  if (typed.empty()) return;
  for (const char key : typed)
    if (key == kBoxKey) swap_box();
  keys_->type(typed, loop_->session(), loop_->pacer().next(), loop_->hands());
  show(true);
}

// The virtual box in the real one's place, or the other way round.
void TerminalFront::swap_box() {
  const bool is_in = loop_->session().source(0) == SeatSource::kBox;
  if (const auto wrong = loop_->obey(is_in ? "box out" : "box in")) say({.text = wrong->text});
}

void TerminalFront::say(const Saying& saying) {
  if (quiet_ || (saying.of_connection && terminal_->interactive())) return;
  terminal_->message(loop_->written(saying));
}

void TerminalFront::say_of_game(const GameLine& line) {
  if (!quiet_) terminal_->message("game: " + line.text);
}

void TerminalFront::turned(const Turn* turn) {
  if (turn == nullptr) return;
  if (lines_) lines_->tell(false);
  show(false);
}

void TerminalFront::show(bool at_once) {
  const Session& session = loop_->session();
  if (!terminal_->interactive() || (!at_once && session.now() < next_show_)) return;
  next_show_ = session.now() + kShowPeriod;
  const TerminalSize size = terminal_->size();
  const Replay* replay = loop_->replay();
  terminal_->draw(
      status_lines({.session = session,
                    .links = loop_->links(),
                    .key_names = keys_->names(),
                    .selection = keys_->selection(),
                    .help = keys_->help(),
                    .columns = size.columns,
                    .rows = size.rows,
                    .replay = replay != nullptr ? replay->progress(session.now()) : ""}));
}

void TerminalFront::end() {
  terminal_->clear();
  if (lines_) lines_->tell(true);
}

}  // namespace understudy
