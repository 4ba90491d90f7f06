// One turn of the loop: wait, read, step, deliver, tell.
#include "sim/app/run_loop.h"

#include <fmt/format.h>

#include <algorithm>
#include <cstdio>
#include <utility>

#include "sim/app/status_text.h"
#include "sim/app/verb.h"
#include "sim/base/text.h"
#include "sim/base/units.h"

namespace understudy {
namespace {

// What a replay may go ahead at once on the way to its beginning.
constexpr Duration kSliceMax = seconds(1);

PacerOptions pacer_options(const ServeArguments& arguments, const Replay* replay) {
  return {.speed_per_mille = static_cast<std::int64_t>(arguments.speed * 1'000.0 + 0.5),
          .begin = replay != nullptr ? replay->begin() : Instant{},
          .held = replay != nullptr || arguments.wait_for_game};
}

// In order of time; a panel file that was read stands before what else comes with it.
bool comes_before(const SeatInput& a, const SeatInput& b) {
  if (a.input.at != b.input.at) return a.input.at < b.input.at;
  return class_of(a.input) == InputClass::kReload && class_of(b.input) != InputClass::kReload;
}

constexpr std::size_t kMarkBytesMax = 500;

// "tram at /dev/pts/5 and 2 more": by which a person knows this session among several.
std::string about_session(const std::vector<SeatPlan>& plans, const std::vector<SeatLinks>& links) {
  const std::string more =
      plans.size() > 1 ? " and " + std::to_string(plans.size() - 1) + " more" : "";
  return plans.front().name + " at " + links.front().links().front()->where() + more;
}

}  // namespace

RunLoop::RunLoop(std::string_view verb, const ServeArguments& arguments, RunPlan plan, Front& front)
    : verb_(verb),
      arguments_(arguments),
      plans_(std::move(plan.seats)),
      seat_options_(std::move(plan.options)),
      replay_(std::move(plan.replay)),
      front_(front),
      pacer_(pacer_options(arguments, replay_.get())),
      signals_(pacer_),
      session_(make_session(arguments.session, seat_options_)),
      was_connected_(plans_.size()),
      changes_(plans_.size()),
      game_(pacer_) {
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
  front_.attach(*this);
}

Result<std::unique_ptr<RunLoop>> RunLoop::make(std::string_view verb,
                                               const ServeArguments& arguments, Front& front) {
  auto plans = plan_seats(arguments.session);
  if (!plans.ok()) return plans.error();
  RunPlan plan{.seats = std::move(plans).value(), .options = {}, .replay = nullptr};
  plan.options = seat_options(arguments.session, plan.seats, true);
  return make(verb, arguments, std::move(plan), front);
}

Result<std::unique_ptr<RunLoop>> RunLoop::make(std::string_view verb,
                                               const ServeArguments& arguments, RunPlan plan,
                                               Front& front) {
  const auto checked = check_serve_arguments(arguments);
  if (!checked.ok()) return checked.error();
  return std::unique_ptr<RunLoop>(new RunLoop(verb, arguments, std::move(plan), front));
}

Result<Done> RunLoop::open() {
  std::vector<std::vector<std::string>> named;
  for (std::size_t i = 0; i < plans_.size(); ++i) {
    std::vector<std::string> notices;
    auto links = open_seat_links(pacer_, arguments_, plans_[i], i, plans_.size(), notices);
    if (!links.ok()) return links.error();
    for (const std::string& notice : notices)
      say({.text = notice, .seat = static_cast<std::uint16_t>(i)});
    links_.push_back(std::move(links).value());
    named.emplace_back();
    for (const std::unique_ptr<Link>& link : links_.back().links())
      named.back().push_back(std::string(link->name()) + " " + link->where());
  }
  for (const SeatLinks& links : links_) links.append_to(all_links_);
  if (!arguments_.box.empty()) {
    auto box = BoxRun::open(pacer_, arguments_.box, *plans_.front().panel);
    if (!box.ok()) return box.error();
    box_ = std::move(box).value();
    say({.text = "the box is at " + box_->port().where(), .seat = 0});
    named.front().push_back("box " + box_->port().where());
  }
  auto socket = HandSocket::open(pacer_, about_session(plans_, links_));
  if (socket.ok())
    hand_socket_ = std::move(socket).value();
  else
    say({.text = socket.error().text + "; going on without 'understudy hand'"});
  auto recorder = begin_recording(arguments_.session, seat_options_, named, WhenRingFull::kEnds);
  if (!recorder.ok()) return recorder.error();
  recorder_ = std::move(recorder).value();
  go_to_begin();
  return Done{};
}

// To where a replay goes live: stepped at once, with what its hands did and nobody at the links.
void RunLoop::go_to_begin() {
  if (!replay_) return;
  if (recorder_) recorder_->set_when_full(WhenRingFull::kWaits);
  while (session_.now() < replay_->begin() && !signal_) {
    const Instant until = earlier(replay_->begin(), session_.now() + kSliceMax);
    inputs_.clear();
    take_recorded(until);
    session_.step(until, inputs_, outputs_);
    if (recorder_) recorder_->step(inputs_, outputs_, std::nullopt);
    pacer_.wait(pacer_.clock(), {});  // only looks, for signals
    signal_ = signals_.take();
  }
  if (recorder_) recorder_->set_when_full(WhenRingFull::kEnds);
  replay_->went_live(session_);
  look_at_once_ = true;
  if (!arguments_.wait_for_game) pacer_.go();
}

std::vector<const Link*> RunLoop::all_ptys() const {
  std::vector<const Link*> ptys;
  for (const SeatLinks& links : links_)
    if (const Link* pty = find_link(links, "pty")) ptys.push_back(pty);
  return ptys;
}

Result<Done> RunLoop::set_game() {
  const Link* pty = find_link(links_.front(), "pty");
  const Link* tcp = find_link(links_.front(), "tcp");
  std::vector<EnvironmentEntry> environment;
  const auto entries = port_environment(all_ptys());
  if (entries.ok())
    environment = entries.value();
  else
    say({.text = entries.error().text + "; the game's serial port has no modem lines"});
  environment_ = understudy::written(environment);
  if (arguments_.print_env) say({.text = "for a game started by hand: " + environment_ + " GAME"});
  const std::string place = tcp != nullptr ? tcp->where() : "";
  const std::size_t colon = place.rfind(':');
  game_.set({.words = arguments_.game,
             .port = pty != nullptr ? pty->where() : "",
             .host = place.substr(0, tcp != nullptr ? colon : 0),
             .tcp = tcp != nullptr ? place.substr(colon + 1) : "",
             .panel = plans_.front().path,
             .environment = environment});
  if (!game_.there()) return Done{};
  return game_.start();
}

int RunLoop::run() {
  for (std::size_t i = 0; i < links_.size(); ++i)
    std::fputs(ready_line(plans_[i].name, links_[i]).c_str(), stdout);
  if (links_.size() > 1) std::fputs("ready all\n", stdout);
  std::fflush(stdout);
  const auto started = set_game();
  if (!started.ok()) {
    front_.end();
    return fail(verb_, started.error());
  }
  const Instant end = arguments_.session.length ? Instant{arguments_.session.length->ns} : kNever;
  while (session_.now() < end && !signal_ && !game_end_ && !left_) turn();
  return finish();
}

Instant RunLoop::next_wake() const {
  if (look_at_once_) return session_.now();
  Instant due = earlier(session_.next_due(), hands_.next_due());
  if (replay_) due = earlier(due, replay_->next_due());
  if (arguments_.session.length) due = earlier(due, Instant{arguments_.session.length->ns});
  if (box_) due = earlier(due, box_->next_wake());
  return earlier(due, front_.next_wake());
}

void RunLoop::turn() {
  const Wake wake = pacer_.wait(next_wake(), all_links_);
  look_at_once_ = false;
  inputs_.clear();
  // Before all else: what passes unaltered passes now.
  if (box_) box_->read(session_, hands_, links_.front(), inputs_);
  read_links();
  if (wake.slipped) {
    say({.text = "the clock slipped " + write_duration(*wake.slipped) +
                 ": this machine stood still for that long"});
    for (std::size_t i = 0; i < links_.size(); ++i)
      inputs_.push_back({static_cast<std::uint16_t>(i), {pacer_.next(), Slipped{*wake.slipped}}});
  }
  read_hands();
  Instant until = later(wake.now, pacer_.last_stamp());
  if (arguments_.session.length)
    until = earlier(until, later(pacer_.last_stamp(), Instant{arguments_.session.length->ns}));
  if (until <= session_.now()) {
    watch_game();
    return front_.turned(nullptr);
  }
  take_recorded(until);
  take_due(until);
  std::stable_sort(inputs_.begin(), inputs_.end(), comes_before);
  session_.step(until, inputs_, outputs_);
  deliver();
  watch_game();
  tell();
  const Turn turn{.inputs = inputs_, .outputs = outputs_, .handed_over = handed_over_};
  front_.turned(&turn);
}

void RunLoop::take_due(Instant until) {
  const std::size_t first = inputs_.size();
  hands_.take_due(session_.now(), until, inputs_);
  if (box_) box_->take_due(until, first, session_, hands_, inputs_);
}

void RunLoop::read_links() {
  for (std::size_t seat = 0; seat < links_.size(); ++seat) {
    read_.clear();
    std::size_t room = session_.device(seat).write_room();
    if (box_) room = box_->room(session_).value_or(room);
    links_[seat].read_events(pacer_, room, read_);
    for (Input& input : read_) {
      if (box_) box_->hear(input, session_);
      if (replay_) replay_->heard(static_cast<std::uint16_t>(seat), input);
      if (std::holds_alternative<LinkOpened>(input.what)) pacer_.go();
      inputs_.push_back({static_cast<std::uint16_t>(seat), std::move(input)});
    }
  }
}

void RunLoop::read_hands() {
  signal_ = signals_.take();
  if (hand_socket_)
    for (const HandSocket::Asked& asked : hand_socket_->take())
      hand_socket_->answer(asked, obey(asked.line));
  front_.bring();
}

std::optional<Error> RunLoop::mark(const std::string& text) {
  if (recording().empty())
    return Error{
        ErrorCode::kUnusable,
        "nothing is being recorded that could be marked; --record FILE begins a recording"};
  if (text.empty() || text.size() > kMarkBytesMax || !is_valid_utf8(text))
    return Error{
        ErrorCode::kUnusable,
        "a mark needs some words, up to 500 bytes of UTF-8: mark: the lamp flickered here"};
  recorder_->mark(pacer_.next(), text);
  say({.text = "marked: " + printable(text)});
  return std::nullopt;
}

std::optional<Error> RunLoop::obey(std::string_view words) {
  if (const auto text = read_mark(words)) return mark(*text);
  if (const auto source = read_box_words(words)) {
    if (box_) return box_->change(*source, session_, inputs_);
    return Error{ErrorCode::kUnusable,
                 "there is no real box in this session; 'understudy tap PANEL "
                 "--box PORT' is one that has"};
  }
  if (box_ && session_.source(0) == SeatSource::kBox)
    if (const auto places = read_let_go(words, hand_seats_))
      return box_->let_go(*places, session_, inputs_);
  const auto hands = parse_hand_words(words, hand_seats_);
  if (!hands.ok()) return hands.error();
  if (hands_.add(pacer_.next(), hands.value())) return std::nullopt;
  return Error{ErrorCode::kUnusable, "too many hands wait already; let some come first"};
}

// What the recording has for the time until then, its marks included.
void RunLoop::take_recorded(Instant until) {
  if (!replay_) return;
  recorded_.clear();
  replay_->take_due(until, recorded_);
  for (SeatInput& input : recorded_) {
    input.input.at = later(input.input.at, session_.now() + nanoseconds(1));
    if (std::holds_alternative<PanelReloaded>(input.input.what))
      reload_at(input, plans_[input.seat].path);
    else
      inputs_.push_back(std::move(input));
  }
  for (const ReplayedMark& mark : replay_->take_marks()) {
    say({.text = "mark: " + printable(mark.text)});
    if (recorder_) recorder_->mark(later(mark.at, session_.now() + nanoseconds(1)), mark.text);
  }
  if (const auto trouble = replay_->take_trouble()) {
    replay_trouble_ = trouble;
    left_ = true;
  }
}

void RunLoop::deliver() {
  for (std::size_t seat = 0; seat < links_.size(); ++seat) {
    const StepOutputs& outputs = outputs_.seats[seat];
    for (const Chunk& chunk : outputs.chunks) {
      std::string_view bytes = outputs.bytes_of(chunk);
      if (box_) bytes = box_->not_passed(bytes);
      if (!bytes.empty()) links_[seat].write(bytes);
    }
    changes_[seat] += static_cast<std::int64_t>(outputs.changes.size());
  }
  handed_over_ = pacer_.clock();
  if (!recorder_) return;
  recorder_->step(inputs_, outputs_, handed_over_);
  const auto ended = recorder_->ended_early();
  if (ended && !recording_ended_told_) say({.text = "the recording ended: " + *ended});
  recording_ended_told_ = ended.has_value();
}

// Who came, who left, what the links have to say and what there is to remark.
void RunLoop::tell() {
  if (box_)
    for (const std::string& notice : box_->take_notices()) say({.text = notice, .seat = 0});
  for (std::size_t seat = 0; seat < links_.size(); ++seat) {
    const auto of_seat = static_cast<std::uint16_t>(seat);
    for (const std::string& notice : links_[seat].take_notices())
      say({.text = notice, .seat = of_seat});
    tell_connection(seat);
    for (const std::string& remark : remarks_.take(session_, seat))
      say({.text = remark, .seat = of_seat});
  }
}

void RunLoop::tell_connection(std::size_t seat) {
  const bool connected = session_.observer(seat).connected();
  if (connected == was_connected_[seat]) return;
  was_connected_[seat] = connected;
  const Link* holder = links_[seat].holder();
  const std::string way = holder != nullptr ? std::string(holder->name()) : "the port";
  // Over a cable it is not always seen that somebody opens and closes.
  const bool cable = find_link(links_[seat], "serial") != nullptr;
  const std::string came = cable ? "the game is there, by " + way : "the game opened " + way;
  const std::string left = cable ? "the game is not there any more" : "the game closed the port";
  say({.text = connected ? came : left,
       .seat = static_cast<std::uint16_t>(seat),
       .of_connection = true});
}

void RunLoop::reload(std::uint16_t seat, const std::string& path,
                     std::shared_ptr<const Panel> panel) {
  reload_at({seat, {pacer_.next(), PanelReloaded{std::move(panel)}}}, path);
}

void RunLoop::reload_at(const SeatInput& reloaded, const std::string& path) {
  const std::uint16_t seat = reloaded.seat;
  SeatPlan& plan = plans_[seat];
  const auto& panel = std::get<PanelReloaded>(reloaded.input.what).panel;
  const std::size_t gone =
      hands_.reload(seat, reloaded.input.at, plan.panel->description, panel->description);
  if (gone > 0)
    say({.text = fmt::format("{} planned for controls that are gone {} forgotten",
                             gone == 1 ? "a movement" : fmt::format("{} movements", gone),
                             gone == 1 ? "is" : "are"),
         .seat = seat});
  inputs_.push_back(reloaded);
  plan.path = path;
  plan.panel = panel;
  hand_seats_[seat].panel = plan.panel.get();
  if (seat == 0) game_.set_panel(path);
}

void RunLoop::start_game() {
  if (game_.there())
    game_.ask_to_end(true);
  else
    say({.text = "there is no game to start: this session was begun without one after --"});
}

void RunLoop::end_game() {
  if (game_.running())
    game_.ask_to_end(false);
  else
    say({.text = "there is no game to end: none runs"});
}

void RunLoop::watch_game() {
  const bool ended = game_.look([this](const GameLine& line) { front_.say_of_game(line); });
  if (!front_.outlives_game()) {
    if (ended) game_end_ = game_.end();
    return;
  }
  if (ended) say({.text = "the game " + game_.ended_words()});
  const auto gone_on = game_.go_on();
  if (!gone_on.ok()) say({.text = gone_on.error().text});
}

int RunLoop::finish() {
  front_.end();
  if (!game_end_) game_.stop([this](const GameLine& line) { front_.say_of_game(line); });
  int status = signal_ ? 128 + *signal_ : kStatusFine;
  if (game_end_ && !game_end_->fine()) {
    std::fputs(
        fmt::format("understudy {}: the game {}\n", verb_, understudy::written(*game_end_)).c_str(),
        stderr);
    status = kStatusFailed;
  }
  for (std::size_t seat = 0; seat < links_.size(); ++seat)
    say({.text = summary_of(session_, seat, links_[seat].counts(), changes_[seat])});
  if (box_) say({.text = box_->summary(), .seat = 0});
  say({.text = fmt::format("played {:.1f} s, fingerprint {}",
                           static_cast<double>(session_.now().ns) / 1e9,
                           written_fingerprint(session_.fingerprint()))});
  if (replay_ && replay_->left_out() > 0)
    say({.text = fmt::format("movements left out, as their controls are not there: {}",
                             replay_->left_out())});
  if (replay_ && replay_->never_asked() > 0)
    say({.text = fmt::format("recorded lines that the game never asked for: {}",
                             replay_->never_asked())});
  if (replay_trouble_) status = fail(verb_, *replay_trouble_);
  if (recorder_) {
    const auto ended = recorder_->end(session_);
    if (!ended.ok()) status = std::max(status, fail(verb_, ended.error()));
  }
  return status;
}

std::string RunLoop::recording() const {
  return recorder_ && !recording_ended_told_ ? arguments_.session.record : "";
}

std::string RunLoop::written(const Saying& saying) const {
  return (saying.seat ? plans_[*saying.seat].name + ": " : "") + saying.text;
}

}  // namespace understudy
