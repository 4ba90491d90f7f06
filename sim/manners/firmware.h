// A board's program running: start, hello, then loop after loop: gather bytes from the game, read
// the controls one after the other, print lines, wait for the next loop. Knows nothing of faults,
// as the real one.
//
//   boot | hello | gather  read read read  print (blocks while the ring is full)  wait | gather ...
//        power-on + boot                                                  one loop after the gather
#pragma once

#include <array>
#include <cstdint>
#include <string_view>
#include <vector>

#include "sim/manners/board_access.h"
#include "sim/manners/decoders.h"
#include "sim/manners/line_gatherer.h"
#include "sim/manners/program.h"

namespace understudy {

inline constexpr std::size_t kFramedBytesMax = kLongestBytesMax + 64;

// A regular value. The program handed to each call must be the same one.
class Firmware {
 public:
  Firmware() = default;

  // (Re)starts at t: everything is forgotten; the loop begins after `boot`.
  void restart(const Program& program, Instant t, Duration boot);

  // When it next does something by itself; kNever while it is held by a full port.
  [[nodiscard]] Instant due() const { return due_; }

  // Runs until nothing is due by `horizon` any more, or it has printed something (so that the wire
  // can plan), or set an output (so that the supply can). REQUIRES: due() <= horizon
  void run(const Program& program, BoardAccess& board, Instant horizon);

  // Its board keeps it from starting until t. REQUIRES: it has not begun; t not before due()
  void postpone(Instant t) { due_ = listens_from_ = t; }

  // Something came on its way to the board: a program that waits for it looks then.
  void byte_coming(Instant first_arrival);
  // The port takes bytes again: a program that was held goes on at t.
  void released(Instant t);

  [[nodiscard]] Instant listens_from() const { return listens_from_; }
  // It has begun to read a line and waits for the rest.
  [[nodiscard]] bool waits_for_bytes() const { return phase_ == Phase::kGathering; }
  // Its memory is used up: it does nothing more until a restart.
  [[nodiscard]] bool stopped() const { return phase_ == Phase::kStopped; }
  [[nodiscard]] std::int64_t number(std::size_t field) const { return numbers_[field]; }
  [[nodiscard]] std::uint64_t lines_printed() const { return sequence_; }

  template <class Digest>
  void add_to(Digest& digest) const {
    gatherer_.add_to(digest);
    digest.add(static_cast<std::int64_t>(phase_));
    digest.add(due_.ns);
    digest.add(started_.ns);
    digest.add(listens_from_.ns);
    digest.add(loop_begins_.ns);
    digest.add(deadline_.ns);
    digest.add(reading_done_.ns);
    digest.add(greeted_);
    digest.add(sequence_);
    digest.add(loops_);
    digest.add(asked_);
    digest.add(static_cast<std::int64_t>(index_));
    digest.add(std::string_view(line_.data() + line_done_, line_size_ - line_done_));
    for (const std::int64_t n : numbers_) digest.add(n);
    digest.add(pins_read_);
    for (const Decoded& decoded : decoded_) decoded.add_to(digest);
    for (const std::int64_t n : sent_on_change_) digest.add(n);
    for (const Instant t : last_sent_) digest.add(t.ns);
  }

 private:
  enum class Phase : std::uint8_t {
    kStarting,
    kGather,
    kGathering,
    kRead,
    kSend,
    kPrint,
    kStopped
  };

  void start(const Program& program);
  void gather(const Program& program, BoardAccess& board);
  void gather_until(const Program& program, BoardAccess& board);
  void begin_readings(const Program& program, BoardAccess& board);
  void take_reading(const Program& program, BoardAccess& board);
  void take_pin(const Program& program, const ReadingPlan& plan, std::int64_t raw);
  void show_turns(const Program& program, const ReadingPlan& plan);
  void send_next(const Program& program, BoardAccess& board);
  void print(const Program& program, BoardAccess& board);
  void end_loop(const Program& program);
  void start_line(std::string_view text);
  bool wants_to_send(const Program& program, std::size_t format) const;
  void compose(const Program& program, std::size_t format);
  [[nodiscard]] bool has_memory(const Program& program) const;
  void build_in_heap(const Program& program);
  void stop(BoardAccess& board);
  void begin_steps_anew(const Program& program, const protocol::LineFormat& line);
  void obey(const Program& program, BoardAccess& board, std::string_view line);
  void show(const Program& program, BoardAccess& board, std::size_t field, std::int64_t number);

  // saved:
  Phase phase_ = Phase::kStarting;
  Instant due_ = kNever;
  Instant started_;
  Instant listens_from_;
  Instant loop_begins_;
  Instant deadline_;  // of a blocking read
  Instant reading_done_;
  std::uint64_t loops_ = 0;     // begun since the start
  std::uint64_t sequence_ = 0;  // lines printed since the start
  std::uint64_t asked_ = 0;     // one bit for each format
  std::size_t index_ = 0;       // the channel being read, or the format being sent
  std::size_t line_size_ = 0;
  std::size_t line_done_ = 0;
  bool greeted_ = false;
  LineGatherer gatherer_;
  std::array<char, kFramedBytesMax> line_{};
  std::array<std::int64_t, kFieldsMax> numbers_{};
  bool showed_ = false;                       // set an output in this run; not kept beyond
  std::uint64_t pins_read_ = 0;               // of a control with several, so far: set if closed
  std::vector<Decoded> decoded_;              // one for each control
  std::vector<std::int64_t> sent_on_change_;  // the program says what stands where
  std::array<Instant, kFormatsMax> last_sent_{};
};

}  // namespace understudy
