// The program's phases, one small function each; `due_` is always the time of the next one.
#include "sim/manners/firmware.h"

#include <algorithm>
#include <limits>
#include <span>

#include "sim/base/check.h"
#include "sim/manners/heap.h"
#include "sim/manners/wire_numbers.h"
#include "sim/model/kinds.h"

namespace understudy {
namespace {

constexpr Instant kNotYet{-1};
// Even an empty loop costs something (common practice, no source).
constexpr Duration kLeastLoop = microseconds(10);
// A board's clock counts in steps, so that ten loops of 20 ms are 200 ms, however the two were
// rounded (4 us at 16 MHz; common practice, no source).
constexpr Duration kClockStep = microseconds(4);

}  // namespace

void Firmware::restart(const Program& program, Instant t, Duration boot) {
  *this = Firmware();
  sent_on_change_.resize(program.remembered_count());
  decoded_.resize(program.panel().description.controls.size());
  started_ = t;
  listens_from_ = t + boot;
  due_ = t + boot;
  last_sent_.fill(kNotYet);
}

void Firmware::run(const Program& program, BoardAccess& board, Instant horizon) {
  showed_ = false;
  while (due_ <= horizon && !showed_) {
    switch (phase_) {
      case Phase::kStarting:
        start(program);
        break;
      case Phase::kGather:
        gather(program, board);
        break;
      case Phase::kGathering:
        gather_until(program, board);
        break;
      case Phase::kRead:
        take_reading(program, board);
        break;
      case Phase::kSend:
        send_next(program, board);
        break;
      case Phase::kPrint:
        print(program, board);
        return;
      case Phase::kStopped:
        return;
    }
  }
}

// The start-up part of the program: the hello, once; then, when it is printed, the first loop.
void Firmware::start(const Program& program) {
  const PanelDescription& panel = program.panel().description;
  if (greeted_ || panel.manners.hello.empty()) {
    loop_begins_ = due_;
    phase_ = Phase::kGather;
    return;
  }
  greeted_ = true;
  start_line(panel.to_game.starts + panel.manners.hello + panel.to_game.ends);
}

void Firmware::gather(const Program& program, BoardAccess& board) {
  const MannersDescription& manners = program.manners();
  ++loops_;
  if (manners.gather == Gathering::kUntil) {
    deadline_ = due_ + manners.gather_at_most;
    if (board.byte_waits(due_)) return gather_until(program, board);
  } else {
    int left = manners.gather == Gathering::kOneByteALoop ? 1 : std::numeric_limits<int>::max();
    for (; left > 0 && board.byte_waits(due_); --left)
      if (gatherer_.add(board.take_byte(), program.line_start(), program.line_ends()))
        obey(program, board, gatherer_.text());
  }
  begin_readings(program, board);
}

// A blocking read: byte after byte until the end of the line, or until no byte came for
// gather_at_most. Then what there is counts as the line.
void Firmware::gather_until(const Program& program, BoardAccess& board) {
  const Duration at_most = program.manners().gather_at_most;
  phase_ = Phase::kGathering;
  while (board.byte_waits(due_)) {
    deadline_ = due_ + at_most;
    if (!gatherer_.add(board.take_byte(), 0, program.line_ends())) continue;
    obey(program, board, gatherer_.text());
    return begin_readings(program, board);
  }
  if (due_ < deadline_) {
    due_ = earlier(deadline_, board.next_byte_at());
    return;
  }
  board.read_timed_out(due_, at_most);
  obey(program, board, gatherer_.text());
  gatherer_.clear();
  begin_readings(program, board);
}

void Firmware::begin_readings(const Program& program, BoardAccess& board) {
  index_ = 0;
  if (program.readings().empty()) {
    phase_ = Phase::kSend;
    due_ = due_ + program.manners().work;
    return;
  }
  phase_ = Phase::kRead;
  const ReadingTimes times = board.reading_times(0, due_);
  due_ = times.samples_at;
  reading_done_ = times.done_at;
}

void Firmware::take_reading(const Program& program, BoardAccess& board) {
  const ReadingPlan& plan = program.readings()[index_];
  const std::int64_t raw = board.sample(index_, due_);
  if (plan.use == ReadingUse::kNumber)
    numbers_[plan.field] = program.wire_number(plan, raw);
  else
    take_pin(program, plan, raw);
  if (++index_ < program.readings().size()) {
    const ReadingTimes times = board.reading_times(index_, reading_done_);
    due_ = times.samples_at;
    reading_done_ = times.done_at;
    return;
  }
  index_ = 0;
  phase_ = Phase::kSend;
  due_ = reading_done_ + program.manners().work;
}

// Pins of one control come one after the other; with the last one they are understood.
void Firmware::take_pin(const Program& program, const ReadingPlan& plan, std::int64_t raw) {
  const ControlDescription& control = program.panel().description.controls[plan.control];
  Decoded& decoded = decoded_[plan.control];
  if (plan.use == ReadingUse::kTurnCount) {
    decoded.take_count(raw);
    return show_turns(program, plan);
  }
  if (plan.pin == 0) pins_read_ = 0;
  if (raw == plan.closed_raw) pins_read_ |= std::uint64_t{1} << plan.pin;
  if (!plan.last_pin) return;
  if (plan.use == ReadingUse::kTurnPin) {
    const auto pins = static_cast<unsigned>(pins_read_);
    decoded.take_pins((pins & 1U) << 1U | pins >> 1U);
    return show_turns(program, plan);
  }
  const SelectorPart& selector = control.selector;
  decoded.place = place_read(pins_read_, selector.places, decoded.place, selector.keeps_in_gap);
  numbers_[plan.field] = wire_number_of_place(decoded.place, selector.places, control.sends);
}

void Firmware::show_turns(const Program& program, const ReadingPlan& plan) {
  const ControlDescription& control = program.panel().description.controls[plan.control];
  const Decoded& decoded = decoded_[plan.control];
  const std::int64_t count = decoded.count(control.encoder);
  numbers_[plan.field] = wire_number_of_count(count, control.sends);
  numbers_[plan.field + 1U] =
      wire_number_of_step(count - decoded.step_from, control.encoder.step_sends, control.sends);
}

// A step that was sent is done with; the next one counts from here.
void Firmware::begin_steps_anew(const Program& program, const protocol::LineFormat& line) {
  for (const std::uint16_t field : line.fields()) {
    const int control = program.step_of(field);
    if (control == kNoControl) continue;
    const auto at = static_cast<std::size_t>(control);
    const ControlDescription& described = program.panel().description.controls[at];
    decoded_[at].step_from = static_cast<std::int32_t>(decoded_[at].count(described.encoder));
    numbers_[field] = wire_number_of_step(0, described.encoder.step_sends, described.sends);
  }
}

bool Firmware::wants_to_send(const Program& program, std::size_t format) const {
  const SendDescription& send = program.send(format);
  const Instant last = last_sent_[format];
  const Duration since = loop_begins_ - last + kClockStep;
  switch (send.mode) {
    case SendMode::kEveryLoop:
      return true;
    case SendMode::kEvery:
      return last == kNotYet || since >= send.every;
    case SendMode::kAsked:
      return (asked_ >> format & 1) != 0;
    case SendMode::kOnChange:
      break;
  }
  if (last == kNotYet) return true;
  if (send.refresh.ns > 0 && since >= send.refresh) return true;
  std::size_t remembered = program.remembered_from(format);
  for (const std::uint16_t field : program.panel().to_game.format(format).fields()) {
    const std::int64_t moved = numbers_[field] - sent_on_change_[remembered++];
    if (moved >= send.change || -moved >= send.change) return true;
  }
  return false;
}

bool Firmware::has_memory(const Program& program) const {
  const HeapDescription& heap = program.manners().heap;
  return heap.free_bytes == 0 || largest_piece(heap, sequence_) > 0;
}

// Heap and stack have met. Lamps stay as they are.
void Firmware::stop(BoardAccess& board) {
  board.program_stopped(due_, sequence_);
  phase_ = Phase::kStopped;
  due_ = kNever;
}

void Firmware::send_next(const Program& program, BoardAccess& board) {
  const std::size_t count = program.panel().game_formats.size();
  while (index_ < count && !wants_to_send(program, index_)) ++index_;
  if (index_ >= count) return end_loop(program);
  if (!has_memory(program)) return stop(board);
  compose(program, index_);
  last_sent_[index_] = loop_begins_;
  asked_ &= ~(std::uint64_t{1} << index_);
  ++index_;
}

void Firmware::compose(const Program& program, std::size_t format) {
  const protocol::LineFormat& line = program.panel().to_game.format(format);
  const protocol::BuiltIns built_ins{
      .sequence = sequence_,
      .uptime_ms = static_cast<std::uint64_t>((due_ - started_).ns / 1'000'000)};
  line_size_ = line.encode_framed(numbers_, built_ins, line_);
  CHECK(line_size_ > 0, "a wire number left the range of its field");
  line_done_ = 0;
  if (program.manners().heap.free_bytes > 0) build_in_heap(program);
  ++sequence_;
  if (program.has_steps()) begin_steps_anew(program, line);
  if (program.panel().game_formats[format].send.mode == SendMode::kOnChange) {
    std::size_t remembered = program.remembered_from(format);
    for (const std::uint16_t field : line.fields()) sent_on_change_[remembered++] = numbers_[field];
  }
  phase_ = Phase::kPrint;
}

// The line's text is put together in the heap; what frames it is printed from where it stands.
void Firmware::build_in_heap(const Program& program) {
  const protocol::Framing& framing = program.panel().to_game_framing;
  const std::size_t starts = framing.starts.size();
  const std::size_t ends = framing.ends.size();
  const std::size_t text = line_size_ - starts - ends;
  const std::int64_t piece = largest_piece(program.manners().heap, sequence_);
  const std::size_t left = leave_what_fits(std::span(line_).subspan(starts, text), piece);
  std::copy_n(framing.ends.begin(), ends,
              line_.begin() + static_cast<std::ptrdiff_t>(starts + left));
  line_size_ = starts + left + ends;
}

void Firmware::start_line(std::string_view text) {
  line_size_ = std::min(text.size(), line_.size());
  std::copy_n(text.begin(), line_size_, line_.begin());
  line_done_ = 0;
  phase_ = Phase::kPrint;
}

void Firmware::print(const Program&, BoardAccess& board) {
  const std::string_view rest(line_.data() + line_done_, line_size_ - line_done_);
  const Printed printed = board.print(due_, rest);
  line_done_ += printed.accepted;
  due_ = printed.resumes_at;
  if (line_done_ < line_size_) return;
  phase_ = loops_ == 0 ? Phase::kStarting : Phase::kSend;
}

// A fixed loop keeps its beat while it can and starts a new one when it was late.
void Firmware::end_loop(const Program& program) {
  const Duration loop = program.manners().loop;
  const Instant least = later(due_, loop_begins_ + kLeastLoop);
  due_ = loop_begins_ = later(least, loop_begins_ + loop);
  phase_ = Phase::kGather;
}

void Firmware::byte_coming(Instant first_arrival) {
  if (phase_ == Phase::kGathering) due_ = earlier(due_, first_arrival);
}

void Firmware::released(Instant t) {
  if (phase_ == Phase::kPrint) due_ = earlier(due_, t);
}

void Firmware::show(const Program& program, BoardAccess& board, std::size_t field,
                    std::int64_t number) {
  const FieldSource source = program.panel().to_panel_sources[field];
  const OutputDescription& output = program.panel().description.outputs[source.part_of];
  showed_ = true;
  board.set_output(field, number_shown(number, sends_of(output, source.part)), due_);
}

}  // namespace understudy
