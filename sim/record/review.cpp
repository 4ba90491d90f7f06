// Keeps all inputs, and copies of the session at even distances; a place is sought from the copy
// before it.
#include "sim/record/review.h"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

#include "sim/base/units.h"
#include "sim/model/kinds.h"
#include "sim/model/version.h"
#include "sim/record/input_digest.h"
#include "sim/record/recorded_panel.h"
#include "sim/record/session_events.h"

namespace understudy {
namespace {

// How far before a place its line before is looked for, at first and at most.
constexpr Duration kLookBackFirst = milliseconds(200);
constexpr Duration kLookBackMost = seconds(3'600);

Error unusable(std::string text) {
  return {ErrorCode::kUnusable, std::move(text)};
}

}  // namespace

Result<Review> Review::open(RecordingReader& reader) {
  Review review(reader.header());
  const auto seats = review.add_seats();
  if (!seats.ok()) return seats.error();
  const auto read = review.read(reader);
  if (!read.ok()) return read.error();
  review.play_through();
  review.seek({});
  return review;
}

Result<Done> Review::add_seats() {
  const auto seats = recorded_seats(header_);
  if (!seats.ok()) return seats.error();
  seats_ = seats.value();
  if (seats_.empty()) return unusable("the recording has no seat, so there is nothing to show");
  for (SeatOptions& seat : seats_) {
    seat.observed = true;
    session_.add_seat(seat);
  }
  return Done{};
}

Result<Done> Review::read(RecordingReader& reader) {
  SessionEvents events(seats_);
  RecordedEvent event;
  bool too_long = false;
  for (;;) {
    const RecordingReader::Got got = reader.next(event);
    if (got == RecordingReader::Got::kEnd) break;
    if (got == RecordingReader::Got::kBadLine) return unusable(reader.problem());
    if (event.at < length_)
      return unusable(fmt::format("line {}: {} ns comes after {} ns, so time goes back",
                                  reader.line_number(), event.at.ns, length_.ns));
    too_long = inputs_.size() >= kReviewInputsMax;
    if (too_long) break;
    length_ = event.at;
    if (const auto* mark = std::get_if<recorded::Mark>(&event.what))
      marks_.push_back({event.at, std::string(mark->text)});
    if (!is_input(event.what)) continue;
    Result<SeatInput> input = events.input_of(event);
    if (!input.ok())
      return unusable(fmt::format("line {}: {}", reader.line_number(), input.error().text));
    inputs_.push_back(std::move(input).value());
  }
  if (length_.ns == 0) return unusable("nothing stands in it but the header");
  remark_on(reader, too_long);
  return Done{};
}

void Review::remark_on(const RecordingReader& reader, bool too_long) {
  if (header_.model != kModelNumber)
    remark_ = fmt::format("made with model {} of the box, shown with model {}: lines may differ",
                          header_.model, kModelNumber);
  const bool cut_off = !too_long && (reader.torn() || !reader.saw_ending());
  if (too_long)
    remark_ += fmt::format("{}shown up to {}: what follows is too much to be held in memory",
                           remark_.empty() ? "" : "; ", write_duration(Duration{length_.ns}));
  if (cut_off)
    remark_ += std::string(remark_.empty() ? "" : "; ") + "the recording was cut off at its end";
}

ReviewBin& Review::bin_of(Instant t) {
  const auto place = static_cast<std::size_t>(static_cast<double>(t.ns) * kReviewBins /
                                              static_cast<double>(length_.ns));
  return overview_[std::min(place, kReviewBins - 1)];
}

void Review::note_in_overview(const SessionOutputs& outputs) {
  for (const SeatInput& input : given_)
    if (std::holds_alternative<HandAction>(input.input.what)) ++bin_of(input.input.at).hands;
  for (const StepOutputs& seat : outputs.seats)
    for (const OutputChange& change : seat.changes) ++bin_of(change.due).changes;
}

// In steps that are short enough for the overview.
void Review::play_through() {
  overview_.assign(kReviewBins, {});
  SessionOutputs outputs;
  std::vector<std::int64_t> lines(seats_.size());
  const std::int64_t bin_ns =
      std::max<std::int64_t>(1, length_.ns / static_cast<std::int64_t>(kReviewBins));
  while (now() < length_) {
    step(earlier(now() + Duration{std::min(bin_ns, copy_period_.ns)}, length_), outputs);
    note_in_overview(outputs);
    for (std::size_t seat = 0; seat < lines.size(); ++seat) {
      const std::int64_t seen = lines_seen(seat);
      bin_of(now()).lines += static_cast<std::uint32_t>(seen - std::exchange(lines[seat], seen));
    }
    keep_copy();
  }
}

// Every other copy goes when there are too many.
void Review::keep_copy() {
  const Instant before = copies_.empty() ? Instant{} : copies_.back().at;
  if (now() < before + copy_period_) return;
  if (copies_.size() >= kReviewCopiesMax) {
    std::size_t kept = 0;
    for (std::size_t i = 1; i < copies_.size(); i += 2) copies_[kept++] = copies_[i];
    copies_.resize(kept);
    copy_period_ = copy_period_ * 2;
  }
  copies_.push_back({now(), next_, std::make_shared<const Session>(session_)});
}

bool Review::is_left_out(const SeatInput& input) const {
  const auto* hand = std::get_if<HandAction>(&input.input.what);
  return hand != nullptr && std::find(taken_.begin(), taken_.end(),
                                      Taken{input.seat, hand->control, hand->part}) != taken_.end();
}

void Review::step(Instant until, SessionOutputs& outputs) {
  given_.clear();
  for (; next_ < inputs_.size() && inputs_[next_].input.at <= until; ++next_) {
    if (is_left_out(inputs_[next_])) continue;
    given_.push_back(inputs_[next_]);
    if (!std::holds_alternative<PanelReloaded>(inputs_[next_].input.what)) continue;
    taken_.clear();
    own_.clear();
  }
  const auto waiting = std::find_if(own_.begin(), own_.end(),
                                    [until](const SeatInput& own) { return own.input.at > until; });
  given_.insert(given_.end(), own_.begin(), waiting);
  own_.erase(own_.begin(), waiting);
  std::stable_sort(given_.begin(), given_.end(),
                   [](const SeatInput& a, const SeatInput& b) { return a.input.at < b.input.at; });
  session_.step(until, given_, outputs);
}

void Review::play(Instant until, SessionOutputs& outputs) {
  outputs.clear();
  given_.clear();
  until = earlier(until, length_);
  if (until > now()) step(until, outputs);
}

void Review::seek(Instant t) {
  t = later(Instant{}, earlier(t, length_));
  taken_.clear();
  own_.clear();
  const auto after = std::upper_bound(copies_.begin(), copies_.end(), t,
                                      [](Instant at, const Copy& copy) { return at < copy.at; });
  if (after == copies_.begin()) {
    session_ = Session(header_.seed);
    for (const SeatOptions& seat : seats_) session_.add_seat(seat);
    next_ = 0;
  } else {
    session_ = *std::prev(after)->session;
    next_ = std::prev(after)->next;
  }
  SessionOutputs outputs;
  if (t > now()) step(t, outputs);
  given_.clear();
}

std::int64_t Review::lines_seen(std::size_t seat) const {
  const LineCounts& counts = session_.observer(seat).traffic_to_game().counts();
  return counts.known + counts.unknown + counts.broken;
}

bool Review::seek_next_line(std::size_t seat) {
  seek(now());
  return step_to_line(seat);
}

bool Review::step_to_line(std::size_t seat) {
  const std::int64_t before = lines_seen(seat);
  SessionOutputs outputs;
  while (now() < length_ && lines_seen(seat) == before) {
    const Instant input = next_ < inputs_.size() ? inputs_[next_].input.at : kNever;
    step(earlier(length_, later(now() + Duration{1}, earlier(session_.next_due(), input))),
         outputs);
  }
  given_.clear();
  return lines_seen(seat) != before;
}

bool Review::seek_line_before(std::size_t seat) {
  const Instant here = now();
  for (Duration back = kLookBackFirst; back <= kLookBackMost; back = back * 4) {
    seek(later(Instant{}, here - back));
    const bool from_beginning = now() == Instant{};
    std::optional<Instant> found;
    while (step_to_line(seat) && now() < here) found = now();
    seek(found.value_or(Instant{}));
    if (found) return true;
    if (from_beginning) break;
  }
  seek({});
  return false;
}

bool Review::take_over(std::uint16_t seat, const HandAction& hand, Duration after) {
  const Instant at = now() + Duration{std::max<std::int64_t>(after.ns, 1'000)};
  if (at > length_ || seat >= seats_.size()) return false;
  const auto& controls = session_.panel(seat).description.controls;
  if (hand.control >= controls.size() || hand.part >= hand_parts(controls[hand.control]).size())
    return false;
  const Taken taken{seat, hand.control, hand.part};
  if (std::find(taken_.begin(), taken_.end(), taken) == taken_.end()) taken_.push_back(taken);
  const auto behind =
      std::upper_bound(own_.begin(), own_.end(), at,
                       [](Instant t, const SeatInput& own) { return t < own.input.at; });
  own_.insert(behind, {seat, {at, hand}});
  return true;
}

std::vector<std::string> Review::taken_over() const {
  std::vector<std::string> names;
  for (const Taken& taken : taken_) {
    const std::string& name = session_.panel(taken.seat).description.controls[taken.control].name;
    if (std::find(names.begin(), names.end(), name) == names.end()) names.push_back(name);
  }
  return names;
}

}  // namespace understudy
