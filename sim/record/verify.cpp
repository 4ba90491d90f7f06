// Steps a fresh session through the batches of a file and compares what comes out, event by event.
#include "sim/record/verify.h"

#include <fmt/format.h>

#include <algorithm>
#include <utility>
#include <vector>

#include "sim/model/version.h"
#include "sim/record/input_digest.h"
#include "sim/record/recorded_panel.h"
#include "sim/record/session_events.h"
#include "sim/record/verify_batches.h"
#include "sim/session/session.h"

namespace understudy {
namespace {

using namespace recorded;

// What a session may run ahead before its outputs are compared.
constexpr Duration kSliceMax = seconds(1);
// How much of a stream is kept to find the line in which a difference lies.
constexpr std::size_t kTailBytes = 4'096;

Error unusable(std::string text) {
  return {ErrorCode::kUnusable, std::move(text)};
}

class Verification {
 public:
  Verification(RecordingReader& reader, std::span<const SeatOptions> seats)
      : reader_(reader),
        batches_(reader),
        session_(reader.header().seed),
        events_(seats),
        streams_(seats.size()) {
    for (const SeatOptions& seat : seats) {
      session_.add_seat(seat);
      sources_.push_back({.before = seat.source, .now = seat.source, .since = {}});
    }
  }

  Result<VerifyReport> run() {
    while (!difference_ && !batches_.changed_inputs()) {
      const Result<Done> filled = batches_.fill();
      if (!filled.ok()) return filled.error();
      if (batches_.events().empty()) break;
      const Result<Done> played = play_batch();
      if (!played.ok()) return played.error();
    }
    if (difference_) batches_.look_for_changed_inputs();
    return VerifyReport{.difference = difference_,
                        .changed_inputs = batches_.changed_inputs(),
                        .until = session_.now(),
                        .events = batches_.taken(),
                        .checks = checks_,
                        .complete = batches_.complete(),
                        .torn = reader_.torn(),
                        .not_ours = not_ours_,
                        .passed_over = reader_.passed_over()};
  }

 private:
  // Of one seat's bytes to the game: what was the same, and what followed a difference.
  struct Stream {
    std::int64_t chunks = 0;
    std::string tail;
  };
  // Where one seat's chunks come from: of the time of a change itself, from where they did before.
  struct Source {
    SeatSource before = SeatSource::kDevice;
    SeatSource now = SeatSource::kDevice;
    Instant since;
  };

  // A chunk that a box or a recording said; keeps up with the changes on the way.
  bool is_not_ours(const RecordedEvent& event) {
    if (event.seat >= sources_.size()) return false;
    Source& source = sources_[event.seat];
    if (const auto* changed = std::get_if<SourceChanged>(&event.what)) {
      if (event.at > source.since) source.before = source.now;
      source.now = changed->source;
      source.since = event.at;
    }
    const SeatSource of_chunk = event.at > source.since ? source.now : source.before;
    return std::holds_alternative<ToGame>(event.what) && of_chunk != SeatSource::kDevice;
  }

  Result<Done> take_inputs() {
    inputs_.clear();
    for (const KeptEvent& kept : batches_.events()) {
      if (!is_input(kept.event.what)) continue;
      Result<SeatInput> input = events_.input_of(kept.event);
      if (!input.ok()) return unusable(fmt::format("line {}: {}", kept.line, input.error().text));
      inputs_.push_back(std::move(input).value());
    }
    return Done{};
  }

  Result<Done> play_batch() {
    const Result<Done> taken = take_inputs();
    if (!taken.ok()) return taken;
    expected_ = looked_at_ = 0;
    check_ahead_ = 0;
    const Instant end = batches_.events().back().event.at;
    std::span<const SeatInput> inputs = inputs_;
    bool one_more = true;  // slice after a difference, to see the rest of its line
    while (session_.now() < end && (!difference_ || std::exchange(one_more, false))) {
      const Instant until = slice_end(end);
      const auto beyond = std::find_if(inputs.begin(), inputs.end(), [&](const SeatInput& input) {
        return input.input.at > until;
      });
      const auto count = static_cast<std::size_t>(beyond - inputs.begin());
      session_.step(until, inputs.first(count), outputs_);
      // With the inputs, so that a reload changes what the outputs after it are called.
      events_.each_of(inputs.first(count), outputs_, std::nullopt,
                      [this](const RecordedEvent& event) { compare(event); });
      inputs = inputs.subspan(count);
      compare_check_asked_for();
    }
    if (!difference_ && next_expected() != nullptr)
      differ({.recorded = &next_expected()->event, .now = nullptr, .line = next_expected()->line});
    if (difference_) explain();
    return Done{};
  }

  // Not beyond the next recorded check, which wants the state at its time.
  Instant slice_end(Instant end) {
    const auto& events = batches_.events();
    while (check_ahead_ < events.size() &&
           (events[check_ahead_].event.at <= session_.now() ||
            !std::holds_alternative<Check>(events[check_ahead_].event.what)))
      ++check_ahead_;
    const Instant check = check_ahead_ < events.size() ? events[check_ahead_].event.at : end;
    const Duration left = check - session_.now();
    return left < kSliceMax ? check : session_.now() + kSliceMax;
  }

  // The recorded event that has to come next; nullptr: none in this batch.
  const KeptEvent* next_expected() {
    const auto& events = batches_.events();
    for (; expected_ < events.size(); ++expected_) {
      const RecordedEvent& event = events[expected_].event;
      const bool not_ours = expected_ < looked_at_ ? false : is_not_ours(event);
      looked_at_ = std::max(looked_at_, expected_ + 1);
      not_ours_ += not_ours ? 1 : 0;
      if (!is_input(event.what) && !not_ours) break;
    }
    return expected_ < events.size() ? &events[expected_] : nullptr;
  }

  void compare(const RecordedEvent& now) {
    if (is_input(now.what)) return;
    if (difference_) return keep_following(now);
    const KeptEvent* recorded = next_expected();
    if (recorded == nullptr) {
      // The file may have been cut off within its last instant.
      const bool cut_off = batches_.at_end() && !batches_.complete();
      if (!cut_off || now.at < batches_.events().back().event.at)
        differ({.recorded = nullptr, .now = &now});
      return;
    }
    if (!same_outcome(recorded->event, now))
      return differ({.recorded = &recorded->event, .now = &now, .line = recorded->line});
    if (std::holds_alternative<Check>(now.what)) ++checks_;
    if (const auto* chunk = std::get_if<ToGame>(&now.what)) keep_tail(now.seat, chunk->bytes);
    ++expected_;
  }

  // The check at the end of a recording is asked for by the recorder, so it must be here too.
  void compare_check_asked_for() {
    const KeptEvent* recorded = next_expected();
    if (difference_ || recorded == nullptr || recorded->event.at != session_.now()) return;
    if (!std::holds_alternative<Check>(recorded->event.what)) return;
    compare({session_.now(), kWholeSession, Check{session_.fingerprint(), 0}});
  }

  void keep_tail(std::uint16_t seat, std::string_view bytes) {
    Stream& stream = streams_[seat];
    ++stream.chunks;
    if (stream.tail.size() > kTailBytes) stream.tail.erase(0, stream.tail.size() - kTailBytes / 2);
    stream.tail += bytes;
  }

  void differ(Unequal unequal) {
    const RecordedEvent& any = unequal.now != nullptr ? *unequal.now : *unequal.recorded;
    if (any.seat != kWholeSession) unequal.chunk = streams_[any.seat].chunks + 1;
    difference_ = difference_of(unequal, reader_.header());
    if (unequal.now == nullptr || unequal.recorded == nullptr) return;
    if (unequal.now->at != unequal.recorded->at) return;  // other times: not the same chunk
    const bool chunks = std::holds_alternative<ToGame>(unequal.now->what) &&
                        std::holds_alternative<ToGame>(unequal.recorded->what);
    if (!chunks || unequal.now->seat != unequal.recorded->seat) return;
    stream_seat_ = unequal.now->seat;
    keep_following(*unequal.now);
  }

  void keep_following(const RecordedEvent& now) {
    const auto* chunk = std::get_if<ToGame>(&now.what);
    if (chunk != nullptr && now.seat == stream_seat_) following_ += chunk->bytes;
  }

  // Looks at the two streams around the difference for the line and its field.
  void explain() {
    if (!stream_seat_) return;
    const std::string& tail = streams_[*stream_seat_].tail;
    std::string recorded = tail;
    const auto& events = batches_.events();
    for (std::size_t i = expected_; i < events.size() && recorded.size() < 4 * kTailBytes; ++i) {
      const auto* chunk = std::get_if<ToGame>(&events[i].event.what);
      if (chunk != nullptr && events[i].event.seat == stream_seat_) recorded += chunk->bytes;
    }
    const std::string now = tail + following_.substr(0, 4 * kTailBytes);
    explain_by_lines(events_.panel(*stream_seat_), {.recorded = recorded, .now = now},
                     *difference_);
  }

  RecordingReader& reader_;
  VerifyBatches batches_;
  Session session_;
  SessionEvents events_;
  SessionOutputs outputs_;
  std::vector<SeatInput> inputs_;
  std::size_t expected_ = 0;     // in the batch: the next event that has to come
  std::size_t looked_at_ = 0;    // in the batch: whose source is known up to here
  std::size_t check_ahead_ = 0;  // in the batch: where to look for the next check
  std::int64_t checks_ = 0;
  std::vector<Source> sources_;  // of each seat
  std::int64_t not_ours_ = 0;
  std::vector<Stream> streams_;
  std::optional<Difference> difference_;
  std::optional<std::uint16_t> stream_seat_;  // whose stream parts there
  std::string following_;                     // what came now from the difference on
};

}  // namespace

Result<VerifyReport> verify(RecordingReader& reader) {
  const RecordingHeader& header = reader.header();
  if (header.model != kModelNumber)
    return Error{ErrorCode::kOtherModel,
                 fmt::format("made by {} with model {}, and this program has model {}: other bytes "
                             "are no fault, so nothing was compared; verify with a program of "
                             "model {}",
                             header.program, header.model, kModelNumber, header.model)};
  const Result<std::vector<SeatOptions>> seats = recorded_seats(header);
  if (!seats.ok()) return seats.error();
  return Verification(reader, seats.value()).run();
}

}  // namespace understudy
