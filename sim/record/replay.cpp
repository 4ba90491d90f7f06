// Reads a second ahead of what is asked for, a bounded number of lines at a time.
#include "sim/record/replay.h"

#include <fmt/format.h>

#include <algorithm>

#include "sim/base/check.h"
#include "sim/model/kinds.h"
#include "sim/model/panel_change.h"
#include "sim/record/input_digest.h"
#include "sim/record/recorded_panel.h"

namespace understudy {
namespace {

using namespace recorded;

constexpr Duration kReadAhead = seconds(1);
// About a hundredth of a second's reading, so that a session in real time never waits longer.
constexpr int kReadAtOnceMax = 20'000;
// Hands take the controls back within the pause between two rounds.
constexpr Duration kWayBackBefore = milliseconds(400);
constexpr Duration kWayBackLength = milliseconds(300);
constexpr Duration kReloadBefore = milliseconds(450);

double seconds_of(Duration length) {
  return static_cast<double>(length.ns) / 1e9;
}

}  // namespace

Result<std::unique_ptr<Replay>> Replay::open(const ReplayPlan& plan) {
  CHECK(plan.times >= 1 && plan.from <= plan.to, "a replay was planned that cannot be");
  auto replay = std::unique_ptr<Replay>(new Replay(plan));
  replay->bytes_.resize(plan.seats.size());
  const auto begun = replay->begin_round();
  if (!begun.ok()) return begun.error();
  return replay;
}

Instant Replay::begin() const {
  return plan_.from > Instant{} ? plan_.from - nanoseconds(1) : Instant{};
}

Instant Replay::end() const {
  const Duration length = plan_.to - plan_.from;
  return plan_.to + (length + kReplayPause) * (plan_.times - 1) + kReplayGrace;
}

// Opens the file anew and goes back to its beginning.
Result<Done> Replay::begin_round() {
  auto reader = RecordingReader::open(plan_.path);
  if (!reader.ok()) return reader.error();
  const auto seats = recorded_seats(reader.value().header());
  if (!seats.ok()) return Error{seats.error().code, plan_.path + ": " + seats.error().text};
  reader_ = std::make_unique<RecordingReader>(std::move(reader).value());
  events_ = std::make_unique<OrderedEvents>(*reader_);
  recorded_ = std::make_unique<SessionEvents>(seats.value());
  panels_.clear();
  for (const SeatOptions& seat : seats.value()) panels_.push_back(seat.panel);
  seat_of_.assign(panels_.size(), std::nullopt);
  for (std::size_t i = 0; i < plan_.seats.size(); ++i) {
    if (plan_.seats[i].recorded >= panels_.size())
      return Error{ErrorCode::kUnusable,
                   plan_.path + ": another file has taken its place while it was played"};
    seat_of_[plan_.seats[i].recorded] = static_cast<std::uint16_t>(i);
    if (!plan_.seats[i].as_bytes) continue;
    const auto& panel = panels_[plan_.seats[i].recorded];
    if (!bytes_[i])
      bytes_[i] = std::make_unique<ReplayedBytes>(panel);
    else
      bytes_[i]->recorded_panel(panel);
  }
  round_read_ = false;
  return Done{};
}

void Replay::went_live(const Session& session) {
  for (std::size_t seat = 0; seat < session.seat_count(); ++seat) {
    panels_live_.push_back(session.shared_panel(seat));
    const auto& controls = session.panel(seat).description.controls;
    for (std::size_t control = 0; control < controls.size(); ++control) {
      const std::span<const HandPart> parts = hand_parts(controls[control]);
      for (std::size_t part = 0; part < parts.size(); ++part) {
        if (parts[part].way == HandWay::kTurns) continue;  // what counts there is how far
        HandAction action{.control = static_cast<std::uint16_t>(control),
                          .part = static_cast<std::uint8_t>(part),
                          .to_ppm = session.device(seat).goal_ppm(control, part)};
        if (parts[part].way == HandWay::kSlides) {
          action.duration = kWayBackLength;
          action.curve = Curve::kMinimumJerk;
        }
        way_back_.push_back({static_cast<std::uint16_t>(seat), {Instant{}, action}});
      }
    }
  }
}

// Before the next round: the first panel again where it was replaced, and every control where it
// was.
void Replay::plan_way_back() {
  for (std::size_t seat = 0; seat < reloaded_.size(); ++seat) {
    if (!reloaded_[seat]) continue;
    reloaded_[seat] = false;
    waiting_.push_back({static_cast<std::uint16_t>(seat),
                        {round_begin() - kReloadBefore, PanelReloaded{panels_live_[seat]}}});
  }
  for (const SeatInput& hand : way_back_) {
    waiting_.push_back(hand);
    waiting_.back().input.at = round_begin() - kWayBackBefore;
  }
}

Instant Replay::next_due() const {
  Instant due = waiting_.empty() ? kNever : waiting_.front().input.at;
  for (const auto& bytes : bytes_)
    if (bytes) due = earlier(due, bytes->next_due());
  if (!marks_waiting_.empty()) due = earlier(due, marks_waiting_.front().at);
  if (!round_read_ || round_ + 1 < plan_.times) due = earlier(due, read_until_);
  return later(due, asked_until_);
}

void Replay::take_due(Instant until, std::vector<SeatInput>& inputs) {
  read_ahead(until + kReadAhead);
  asked_until_ = until;
  const std::size_t before = inputs.size();
  while (!waiting_.empty() && waiting_.front().input.at <= until) {
    inputs.push_back(std::move(waiting_.front()));
    waiting_.pop_front();
  }
  for (std::size_t seat = 0; seat < bytes_.size(); ++seat) {
    if (!bytes_[seat]) continue;
    pieces_.clear();
    bytes_[seat]->take_due(until, pieces_);
    for (TimedPiece& piece : pieces_)
      inputs.push_back(
          {static_cast<std::uint16_t>(seat), {piece.at, BoxBytes{std::move(piece.bytes)}}});
  }
  std::stable_sort(inputs.begin() + static_cast<std::ptrdiff_t>(before), inputs.end(),
                   [](const SeatInput& a, const SeatInput& b) { return a.input.at < b.input.at; });
  while (!marks_waiting_.empty() && marks_waiting_.front().at <= until) {
    marks_.push_back(std::move(marks_waiting_.front()));
    marks_waiting_.pop_front();
  }
}

void Replay::heard(std::uint16_t seat, const Input& input) {
  const auto* bytes = std::get_if<BytesFromGame>(&input.what);
  if (bytes != nullptr && bytes_[seat]) bytes_[seat]->heard(input.at, bytes->bytes);
}

std::int64_t Replay::never_asked() const {
  std::int64_t count = 0;
  for (const auto& bytes : bytes_) count += bytes ? bytes->never_asked() : 0;
  return count;
}

std::vector<ReplayedMark> Replay::take_marks() {
  return std::exchange(marks_, {});
}

void Replay::read_ahead(Instant until) {
  for (int left = kReadAtOnceMax; left > 0 && read_until_ <= until; --left) {
    if (read_one()) continue;
    if (trouble_ || round_ + 1 >= plan_.times) return;
    ++round_;
    const auto begun = begin_round();
    if (!begun.ok()) return give_up(begun.error());
    plan_way_back();
    read_until_ = round_begin() - kReloadBefore;
  }
}

// False: the round has been read.
bool Replay::read_one() {
  if (round_read_) return false;
  RecordedEvent event;
  const auto got = events_->next(event);
  if (!got.ok()) {
    give_up({got.error().code, plan_.path + ": " + got.error().text});
    return false;
  }
  round_read_ = !got.value() || event.at > plan_.to;
  if (round_read_) {
    for (const auto& bytes : bytes_)
      if (bytes) bytes->recorded_end();
    return false;
  }
  read_until_ = later(read_until_, event.at + offset());
  take(event, event.at + offset());
  return true;
}

void Replay::give_up(Error error) {
  trouble_ = std::move(error);
  round_read_ = true;
  plan_.times = round_ + 1;
}

void Replay::take(const RecordedEvent& event, Instant at) {
  if (const auto* mark = std::get_if<Mark>(&event.what)) {
    if (event.at >= plan_.from) marks_waiting_.push_back({at, std::string(mark->text)});
    return;
  }
  const bool read = std::holds_alternative<PanelRead>(event.what);
  if (!read && !is_hand(event.what)) return take_bytes(event, at);
  auto input = recorded_->input_of(event);
  if (!input.ok()) return give_up(wrong_line(reader_->line_number(), input.error().text));
  if (read) panels_[event.seat] = std::get<PanelReloaded>(input.value().input.what).panel;
  const auto seat = seat_of_[event.seat];
  if (read && seat && bytes_[*seat]) bytes_[*seat]->recorded_panel(panels_[event.seat]);
  // Of a later round only what lies in the part: the way there was stepped in the first one.
  if (!seat || (round_ > 0 && event.at < plan_.from)) return;
  if (read && plan_.seats[*seat].other != nullptr) return;
  if (read && event.at >= plan_.from) reloaded_[*seat] = true;
  take_hand(*seat, std::move(input).value(), at);
}

void Replay::take_bytes(const RecordedEvent& event, Instant at) {
  if (event.seat == kWholeSession || event.at < plan_.from) return;
  const auto seat = seat_of_[event.seat];
  if (!seat || !bytes_[*seat]) return;
  if (const auto* chunk = std::get_if<ToGame>(&event.what))
    bytes_[*seat]->recorded_to_game(at, chunk->bytes);
  if (const auto* said = std::get_if<FromGame>(&event.what))
    bytes_[*seat]->recorded_from_game(at, said->bytes);
}

void Replay::take_hand(std::uint16_t seat, SeatInput input, Instant at) {
  const ReplayedSeat& played = plan_.seats[seat];
  input.seat = seat;
  input.input.at = at;
  if (played.other != nullptr) {
    const auto moved = hand_on(played.other->description, std::get<HandAction>(input.input.what),
                               panels_[played.recorded]->description);
    if (!moved) {
      ++left_out_;
      return;
    }
    input.input.what = *moved;
  }
  waiting_.push_back(std::move(input));
}

std::string Replay::progress(Instant now) const {
  const Duration length = plan_.to - plan_.from;
  const std::int64_t period = (length + kReplayPause).ns;
  const std::int64_t into = std::max<std::int64_t>(0, (now - plan_.from).ns);
  const std::int64_t round = std::min(into / period, plan_.times - 1);
  const Duration played{std::min(into - round * period, length.ns)};
  std::string text = fmt::format("{:.1f} of {:.1f} s", seconds_of(played), seconds_of(length));
  if (plan_.times > 1) text += fmt::format(", round {} of {}", round + 1, plan_.times);
  return text;
}

std::optional<Error> Replay::take_trouble() {
  return std::exchange(trouble_, std::nullopt);
}

}  // namespace understudy
