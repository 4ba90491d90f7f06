// One turn of the loop: wait, read, step, deliver, tell.
#include "sim/app/serve_loop.h"

#include <fmt/format.h>
#include <unistd.h>

#include <algorithm>
#include <cstdio>

#include "sim/app/status_text.h"
#include "sim/app/verb.h"
#include "sim/base/text.h"
#include "sim/base/units.h"

namespace understudy {
namespace {

constexpr Duration kShowPeriod = milliseconds(200);
// Hands refused on standard input: one message so often at most.
constexpr Duration kRefusalPeriod = seconds(1);

PacerOptions pacer_options(const ServeArguments& arguments) {
  return {.speed_per_mille = static_cast<std::int64_t>(arguments.speed * 1'000.0 + 0.5)};
}

// "tram at /dev/pts/5 and 2 more": by which a person knows this session among several.
std::string about_session(const std::vector<SeatPlan>& plans, const std::vector<SeatLinks>& links) {
  const std::string more =
      plans.size() > 1 ? " and " + std::to_string(plans.size() - 1) + " more" : "";
  return plans.front().name + " at " + links.front().links().front()->where() + more;
}

}  // namespace

ServeLoop::ServeLoop(const ServeArguments& arguments, std::vector<SeatPlan> plans,
                     const std::vector<SeatOptions>& seats)
    : arguments_(arguments),
      plans_(std::move(plans)),
      seat_options_(seats),
      pacer_(pacer_options(arguments)),
      signals_(pacer_),
      screen_(!arguments.session.quiet),
      session_(make_session(arguments.session, seats)),
      was_connected_(plans_.size()),
      keys_(session_),
      changes_(plans_.size()) {
  for (const SeatPlan& plan : plans_) {
    const auto heading = [this, seat = static_cast<std::uint16_t>(hand_seats_.size())](
                             std::size_t control, std::size_t part) {
      return hands_.heading_of({.seat = seat,
                                .control = static_cast<std::uint16_t>(control),
                                .part = static_cast<std::uint8_t>(part)},
                               session_);
    };
    hand_seats_.push_back({plan.name, plan.panel.get(), heading});
  }
  if (screen_.interactive()) keys_in_ = std::make_unique<BytesIn>(pacer_, STDIN_FILENO);
  else if (may_read_standard_input()) lines_in_ = std::make_unique<LinesIn>(pacer_, STDIN_FILENO);
}

Result<std::unique_ptr<ServeLoop>> ServeLoop::open(const ServeArguments& arguments) {
  const auto checked = check_serve_arguments(arguments);
  if (!checked.ok()) return checked.error();
  auto plans = plan_seats(arguments.session);
  if (!plans.ok()) return plans.error();
  const std::vector<SeatOptions> seats = seat_options(arguments.session, plans.value(), true);
  std::unique_ptr<ServeLoop> loop(new ServeLoop(arguments, std::move(plans).value(), seats));
  const auto opened = loop->open_links();
  if (!opened.ok()) return opened.error();
  return loop;
}

Result<Done> ServeLoop::open_links() {
  std::vector<std::vector<std::string>> named;
  for (std::size_t i = 0; i < plans_.size(); ++i) {
    std::vector<std::string> notices;
    auto links = open_seat_links(pacer_, arguments_, plans_[i], i, plans_.size(), notices);
    if (!links.ok()) return links.error();
    for (const std::string& notice : notices) say(plans_[i].name + ": " + notice);
    links_.push_back(std::move(links).value());
    named.emplace_back();
    for (const std::unique_ptr<Link>& link : links_.back().links())
      named.back().push_back(std::string(link->name()) + " " + link->where());
  }
  for (const SeatLinks& links : links_) links.append_to(all_links_);
  auto socket = HandSocket::open(pacer_, about_session(plans_, links_));
  if (socket.ok()) hand_socket_ = std::move(socket).value();
  else say(socket.error().text + "; going on without 'understudy hand'");
  auto recorder =
      begin_recording(arguments_.session, seat_options_, named, WhenRingFull::kEnds);
  if (!recorder.ok()) return recorder.error();
  recorder_ = std::move(recorder).value();
  return Done{};
}

std::vector<const Link*> ServeLoop::all_ptys() const {
  std::vector<const Link*> ptys;
  for (const SeatLinks& links : links_)
    if (const Link* pty = find_link(links, "pty")) ptys.push_back(pty);
  return ptys;
}

Result<Done> ServeLoop::start_game() {
  const Link* pty = find_link(links_.front(), "pty");
  const Link* tcp = find_link(links_.front(), "tcp");
  std::vector<EnvironmentEntry> environment;
  const auto entries = port_environment(all_ptys());
  if (entries.ok()) environment = entries.value();
  else say(entries.error().text + "; the game's serial port has no modem lines");
  if (arguments_.print_env) say("for a game started by hand: " + written(environment) + " GAME");
  if (arguments_.game.empty()) return Done{};
  const std::string place = tcp != nullptr ? tcp->where() : "";
  const std::size_t colon = place.rfind(':');
  auto game = GameProcess::start(
      pacer_, {.words = arguments_.game,
               .port = pty != nullptr ? pty->where() : "",
               .host = place.substr(0, tcp != nullptr ? colon : 0),
               .tcp = tcp != nullptr ? place.substr(colon + 1) : "",
               .panel = plans_.front().path,
               .environment = environment});
  if (!game.ok()) return game.error();
  game_ = std::move(game).value();
  return Done{};
}

int ServeLoop::run() {
  for (std::size_t i = 0; i < links_.size(); ++i)
    std::fputs(ready_line(plans_[i].name, links_[i]).c_str(), stdout);
  if (links_.size() > 1) std::fputs("ready all\n", stdout);
  std::fflush(stdout);
  if (arguments_.wait_for_game) pacer_.hold();
  const auto started = start_game();
  if (!started.ok()) return fail("serve", started.error());
  const Instant end =
      arguments_.session.length ? Instant{arguments_.session.length->ns} : kNever;
  while (session_.now() < end && !signal_ && !game_end_) turn();
  return finish();
}

Instant ServeLoop::next_wake() const {
  Instant due = earlier(session_.next_due(), hands_.next_due());
  if (arguments_.session.length) due = earlier(due, Instant{arguments_.session.length->ns});
  if (refusals_untold_ > 0) due = earlier(due, refusals_quiet_until_);
  return screen_.interactive() ? earlier(due, next_show_) : due;
}

void ServeLoop::turn() {
  const Wake wake = pacer_.wait(next_wake(), all_links_);
  inputs_.clear();
  if (wake.slipped) {
    say("the clock slipped " + write_duration(*wake.slipped) +
        ": this machine stood still for that long");
    for (std::size_t i = 0; i < links_.size(); ++i)
      inputs_.push_back({static_cast<std::uint16_t>(i), {pacer_.next(), Slipped{*wake.slipped}}});
  }
  read_links();
  read_hands();
  Instant until = later(wake.now, pacer_.last_stamp());
  if (arguments_.session.length)
    until = earlier(until, later(pacer_.last_stamp(), Instant{arguments_.session.length->ns}));
  if (until <= session_.now()) return watch_game();
  hands_.take_due(session_.now(), until, inputs_);
  std::stable_sort(inputs_.begin(), inputs_.end(), [](const SeatInput& a, const SeatInput& b) {
    return a.input.at < b.input.at;
  });
  session_.step(until, inputs_, outputs_);
  deliver();
  watch_game();
  tell();
  show(false);
}

void ServeLoop::read_links() {
  for (std::size_t seat = 0; seat < links_.size(); ++seat) {
    read_.clear();
    links_[seat].read_events(pacer_, session_.device(seat).write_room(), read_);
    for (Input& input : read_) {
      if (std::holds_alternative<LinkOpened>(input.what)) pacer_.go();
      inputs_.push_back({static_cast<std::uint16_t>(seat), std::move(input)});
    }
  }
}

void ServeLoop::read_hands() {
  signal_ = signals_.take();
  if (lines_in_)
    for (const std::string& line : lines_in_->take()) obey(line, std::nullopt);
  if (hand_socket_)
    for (const HandSocket::Asked& asked : hand_socket_->take()) obey(asked.line, asked);
  if (!keys_in_) return;
  const std::string typed = keys_in_->take();
  if (typed.empty()) return;
  keys_.type(typed, session_, pacer_.next(), hands_);
  show(true);
}

void ServeLoop::obey(const std::string& words, std::optional<HandSocket::Asked> asked) {
  std::optional<Error> wrong;
  const auto hands = parse_hand_words(words, hand_seats_);
  if (!hands.ok()) wrong = hands.error();
  else if (!hands_.add(pacer_.next(), hands.value()))
    wrong = Error{ErrorCode::kUnusable, "too many hands wait already; let some come first"};
  if (asked) hand_socket_->answer(*asked, wrong);
  else if (wrong) tell_refusal(wrong->text);
}

// A stream of nonsense on standard input must not drown everything else: the first is told at once,
// and of those within the next period the last, with the number of the rest.
void ServeLoop::tell_refusal(const std::string& text) {
  ++refusals_untold_;
  last_refusal_ = text;
  tell_refusals(false);
}

void ServeLoop::tell_refusals(bool at_once) {
  if (refusals_untold_ == 0 || (!at_once && session_.now() < refusals_quiet_until_)) return;
  const std::int64_t more = refusals_untold_ - 1;
  say(last_refusal_ + (more > 0 ? fmt::format("; and {} more", more) : ""));
  refusals_untold_ = 0;
  refusals_quiet_until_ = session_.now() + kRefusalPeriod;
}

void ServeLoop::deliver() {
  for (std::size_t seat = 0; seat < links_.size(); ++seat) {
    const StepOutputs& outputs = outputs_.seats[seat];
    for (const Chunk& chunk : outputs.chunks) links_[seat].write(outputs.bytes_of(chunk));
    changes_[seat] += static_cast<std::int64_t>(outputs.changes.size());
  }
  if (!recorder_) return;
  recorder_->step(inputs_, outputs_, pacer_.clock());
  const auto ended = recorder_->ended_early();
  if (ended && !recording_ended_told_) say("the recording ended: " + *ended);
  recording_ended_told_ = ended.has_value();
}

// Who came, who left, what the links have to say and what there is to remark.
void ServeLoop::tell() {
  tell_refusals(false);
  for (std::size_t seat = 0; seat < links_.size(); ++seat) {
    const std::string name = plans_[seat].name + ": ";
    for (const std::string& notice : links_[seat].take_notices()) say(name + notice);
    tell_connection(seat);
    for (const std::string& remark : remarks_.take(session_, seat)) say(name + remark);
  }
}

void ServeLoop::tell_connection(std::size_t seat) {
  const bool connected = session_.observer(seat).connected();
  if (connected == was_connected_[seat]) return;
  was_connected_[seat] = connected;
  if (screen_.interactive()) return;  // the block shows it
  const Link* holder = links_[seat].holder();
  const std::string way = holder != nullptr ? std::string(holder->name()) : "the port";
  const std::string& name = plans_[seat].name;
  // Over a cable it is not always seen that somebody opens and closes.
  if (find_link(links_[seat], "serial") != nullptr)
    say(name + (connected ? ": the game is there, by " + way : ": the game is not there any more"));
  else
    say(name + (connected ? ": the game opened " + way : ": the game closed the port"));
}

void ServeLoop::show(bool at_once) {
  if (!screen_.interactive() || (!at_once && session_.now() < next_show_)) return;
  next_show_ = session_.now() + kShowPeriod;
  const TerminalSize size = screen_.size();
  screen_.draw(status_lines({.session = session_,
                             .links = links_,
                             .key_names = keys_.names(),
                             .selection = keys_.selection(),
                             .help = keys_.help(),
                             .columns = size.columns,
                             .rows = size.rows}));
}

void ServeLoop::watch_game() {
  if (!game_) return;
  const std::optional<GameEnd> end = game_->end();
  tell_game_lines(end.has_value());
  game_end_ = end;
}

// The lines come in bounded portions; when the game is gone, all that are left.
void ServeLoop::tell_game_lines(bool all) {
  for (std::vector<GameLine> lines = game_->take_lines(); !lines.empty();
       lines = all ? game_->take_lines() : std::vector<GameLine>())
    for (const GameLine& line : lines) say("game: " + line.text);
}

int ServeLoop::finish() {
  screen_.clear();
  tell_refusals(true);
  if (game_ && !game_end_) {
    game_->stop();
    tell_game_lines(true);
  }
  int status = signal_ ? 128 + *signal_ : kStatusFine;
  if (game_end_ && !game_end_->fine()) {
    std::fputs(("understudy serve: the game " + written(*game_end_) + "\n").c_str(), stderr);
    status = kStatusFailed;
  }
  for (std::size_t seat = 0; seat < links_.size(); ++seat)
    say(summary_of(session_, seat, links_[seat].counts(), changes_[seat]));
  say(fmt::format("played {:.1f} s, fingerprint {}", static_cast<double>(session_.now().ns) / 1e9,
                  written_fingerprint(session_.fingerprint())));
  if (recorder_) {
    const auto ended = recorder_->end(session_);
    if (!ended.ok()) status = std::max(status, fail("serve", ended.error()));
  }
  return status;
}

void ServeLoop::say(const std::string& line) {
  if (!arguments_.session.quiet) screen_.message(line);
}

}  // namespace understudy
