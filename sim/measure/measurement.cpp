// One pass over the events of a recording, each brought to its seat.
#include "sim/measure/measurement.h"

#include <algorithm>
#include <utility>

#include "sim/base/text.h"
#include "sim/measure/read_ahead.h"
#include "sim/model/inputs.h"
#include "sim/model/kinds.h"
#include "sim/record/reader.h"
#include "sim/record/recorded_panel.h"

namespace understudy {
namespace {

// Later times than this (a hundred years) are damage, and would make sums overflow.
constexpr Instant kLatest{std::int64_t{100} * 366 * 86'400 * 1'000'000'000};
constexpr std::int64_t kProgressBytes = 1'000'000;
constexpr std::size_t kMarkBytesMax = 200;

// Tells how much of a file was read.
class CountedSource final : public ByteSource {
 public:
  CountedSource(std::unique_ptr<ByteSource> source, std::function<void(std::int64_t)> progress)
      : source_(std::move(source)), progress_(std::move(progress)) {}
  Result<std::size_t> read(std::span<char> to) override {
    Result<std::size_t> got = source_->read(to);
    if (got.ok()) bytes_ += static_cast<std::int64_t>(got.value());
    if (bytes_ - told_ >= kProgressBytes) {
      told_ = bytes_;
      progress_(bytes_);
    }
    return got;
  }
  [[nodiscard]] bool torn() const override { return source_->torn(); }

 private:
  std::unique_ptr<ByteSource> source_;
  std::function<void(std::int64_t)> progress_;
  std::int64_t bytes_ = 0;
  std::int64_t told_ = 0;
};

template <class List>
std::size_t place_of(const List& list, std::string_view name) {
  const auto found =
      std::find_if(list.begin(), list.end(), [&](const auto& one) { return one.name == name; });
  return static_cast<std::size_t>(found - list.begin());
}

// The place of a part by its word; the list's size where there is none.
template <class Parts>
std::size_t part_of(const Parts& parts, std::string_view word) {
  for (std::size_t i = 0; i < parts.size(); ++i)
    if (parts[i] == word) return i;
  return parts.size();
}

std::vector<std::string_view> hand_words(const ControlDescription& control) {
  std::vector<std::string_view> words;
  for (const HandPart& part : hand_parts(control)) words.push_back(part.name);
  return words;
}

class Measuring {
 public:
  Measuring(RecordingReader reader, const std::string& name, const MeasureOptions& options)
      : reader_(std::move(reader)), options_(options) {
    measured_.file = name;
    measured_.start = reader_.header().start;
    measured_.program = reader_.header().program;
    for (const RecordedSeat& seat : reader_.header().seats)
      measured_.seats.push_back(
          {seat.name, SeatStatistics({.panel = panel_of(seat.panel, seat.resolved, seat.name),
                                      .gap_bound = options.gap_bound,
                                      .trace_spans_max = options.trace_spans_max})});
  }

  Measurement run() {
    {
      ReadAhead ahead(reader_);
      while (const ReadBatch* batch = ahead.next()) take(*batch);
    }
    measured_.torn = reader_.torn();
    measured_.passed_over = reader_.passed_over();
    measured_.complete = reader_.saw_ending() && measured_.ended == kEndedComplete;
    if (!reader_.saw_ending()) measured_.ended.clear();
    return std::move(measured_);
  }

 private:
  void take(const ReadBatch& batch) {
    auto wrong = batch.bad_lines.begin();
    const auto tell_until = [&](std::size_t place) {
      for (; wrong != batch.bad_lines.end() && wrong->before <= place; ++wrong) bad(wrong->problem);
    };
    const std::vector<KeptEvent>& events = batch.events.events();
    for (std::size_t i = 0; i < events.size(); ++i) {
      tell_until(i);
      line_ = events[i].line;
      if (take_time(events[i].event.at)) take(events[i].event);
    }
    tell_until(events.size());
  }

  void problem(std::string text) {
    if (measured_.problems.size() < kProblemsTold) measured_.problems.push_back(std::move(text));
  }
  void bad(std::string text) {
    ++measured_.bad_lines;
    problem(std::move(text));
  }
  void bad_here(const std::string& what) { bad("line " + std::to_string(line_) + ": " + what); }

  std::shared_ptr<const Panel> panel_of(std::string_view text, std::string_view resolved,
                                        const std::string& name) {
    if (options_.panel) return options_.panel;
    if (text.empty() && resolved.empty()) return nullptr;
    auto panel = recorded_panel({.panel = text, .resolved = resolved, .name = name});
    if (panel.ok()) return std::move(panel).value();
    problem("the panel of seat " + printable(name) +
            " cannot be used, its lines are measured without one: " + panel.error().text);
    return nullptr;
  }

  bool take_time(Instant at) {
    if (at < measured_.last_at || at > kLatest) {
      bad_here(at > kLatest ? "its time is beyond a hundred years"
                            : "it goes back in time, behind the line before it");
      return false;
    }
    if (measured_.events++ == 0) measured_.first_at = at;
    measured_.last_at = at;
    return true;
  }

  void take(const RecordedEvent& event) {
    at_ = event.at;
    if (event.seat == kWholeSession) {
      seat_ = nullptr;
      if (const auto* mark = std::get_if<recorded::Mark>(&event.what)) take_of_session(*mark);
      if (const auto* ended = std::get_if<recorded::Ended>(&event.what))
        measured_.ended = ended->reason.substr(0, kMarkBytesMax);
      return;
    }
    seat_ = &measured_.seats[event.seat].statistics;
    if (const auto* chunk = std::get_if<recorded::ToGame>(&event.what))
      return seat_->to_game(at_, chunk->bytes);  // most events are these
    std::visit([this](const auto& what) { take_of_seat(what); }, event.what);
  }

  void take_of_session(const recorded::Mark& mark) {
    if (measured_.marks.size() < kMarksKept)
      measured_.marks.push_back({at_, std::string(mark.text.substr(0, kMarkBytesMax))});
  }

  void take_of_seat(const recorded::FromGame& written) { seat_->to_panel(at_, written.bytes); }
  void take_of_seat(const recorded::OutputSet& set) {
    if (!seat_->panel()) return;
    const auto& outputs = seat_->panel()->description.outputs;
    const std::size_t output = place_of(outputs, set.output);
    if (output == outputs.size()) return unknown(set.output);
    const auto parts = line_parts(outputs[output]);
    const std::size_t part = part_of(parts, set.part);
    if (part == parts.size()) return unknown(set.output);
    seat_->output_set(at_, output, part, set.number);
  }
  void take_of_seat(const recorded::HandMoved& moved) {
    if (!seat_->panel()) return;
    const auto& controls = seat_->panel()->description.controls;
    const std::size_t control = place_of(controls, moved.control);
    if (control == controls.size()) return unknown(moved.control);
    const auto words = hand_words(controls[control]);
    const std::size_t part = part_of(words, moved.part);
    if (part == words.size()) return unknown(moved.control);
    seat_->hand_to(at_, control, part, moved.to_ppm, held(moved.duration));
  }
  void take_of_seat(const recorded::HandTurned& turned) {
    if (!seat_->panel()) return;
    const auto& controls = seat_->panel()->description.controls;
    const std::size_t control = place_of(controls, turned.control);
    if (control == controls.size()) return unknown(turned.control);
    seat_->hand_turned(at_, control, turned.by_ppm, held(turned.duration));
  }
  void take_of_seat(const recorded::PanelRead& read) {
    if (auto panel = panel_of(read.panel, read.resolved, "of line " + std::to_string(line_)))
      seat_->panel_read(at_, std::move(panel));
  }
  void take_of_seat(const LinkOpened&) { seat_->port_opened(at_); }
  void take_of_seat(const LinkClosed&) { seat_->port_closed(at_); }
  void take_of_seat(const LineSettings& set) { seat_->line_settings(set.baud, set.stop_bits); }
  void take_of_seat(const Slipped& slipped) {
    measured_.slipped = {std::min(
        measured_.slipped.ns + std::clamp(slipped.by.ns, std::int64_t{0}, kLatest.ns), kLatest.ns)};
  }
  template <class Other>
  void take_of_seat(const Other&) {}

  // With another panel than the recorded one, names may well be others.
  void unknown(std::string_view name) {
    if (options_.panel) return;
    bad_here("the panel has no " + printable(name.substr(0, kMarkBytesMax)) + " of that kind");
  }
  static Duration held(Duration duration) {
    return std::clamp(duration, Duration{}, kGestureLengthMax);
  }

  RecordingReader reader_;
  const MeasureOptions& options_;
  Measurement measured_;
  SeatStatistics* seat_ = nullptr;
  Instant at_;
  std::int64_t line_ = 1;
};

}  // namespace

Result<Measurement> measure_source(std::unique_ptr<ByteSource> source, const std::string& name,
                                   const MeasureOptions& options) {
  if (options.progress)
    source = std::make_unique<CountedSource>(std::move(source), options.progress);
  Result<RecordingReader> reader = RecordingReader::from_source(std::move(source), name);
  if (!reader.ok()) return reader.error();
  if (const std::size_t seats = reader.value().header().seats.size(); seats > kSeatsMeasuredMax)
    return Error{ErrorCode::kUnusable, "cannot measure recording " + name + ": it has " +
                                           std::to_string(seats) + " seats; at most " +
                                           std::to_string(kSeatsMeasuredMax) + " are measured"};
  return Measuring(std::move(reader).value(), name, options).run();
}

Result<Measurement> measure_recording(const std::string& path, const MeasureOptions& options) {
  Result<std::unique_ptr<ByteSource>> source = file_source(path);
  if (!source.ok()) return source.error();
  return measure_source(std::move(source).value(), path, options);
}

}  // namespace understudy
