// What the computer adds to the wire: bytes are handed over in chunks, when a chunk is full or when
// the flush timer runs out (it starts anew at every hand-over), into a buffer of bounded size from
// which the game takes them. A native port has frames of its own instead, on a fixed grid.
// Source of the flush rule: application note AN232B-04 on USB bridge chips (62 user bytes a packet,
// 16 ms latency timer, restarted at every send).
#pragma once

#include <cstdint>

#include "sim/base/time.h"
#include "sim/model/outputs.h"
#include "sim/model/panel_description.h"
#include "sim/wire/timed_bytes.h"

namespace understudy {

// Bytes printed but not handed over yet: a whole line, the print ring, a chunk.
using FlightToHost = TimedBytes<3'072, 128>;

// What was done with bytes that were due.
struct HostCounts {
  std::int64_t handed_over = 0;
  std::int64_t dropped_full = 0;      // the host buffer was full
  std::int64_t dropped_unheard = 0;   // nobody had the port open
};

// A regular value; the description must outlive each call it is handed to.
class HostSide {
 public:
  HostSide() = default;
  HostSide(const HostDescription& host, WireKind wire, bool whole_lines);

  [[nodiscard]] const FlightToHost& flight() const { return flight_; }

  // Bytes that the board begins to send at t, at so much time a byte. Returns how many found room;
  // the rest has to wait until something was handed over.
  std::size_t send(Instant t, std::string_view bytes, Ratio byte_time);
  // As send, of `sent` bytes of which the computer reads these others. Returns how many of those
  // found room.
  std::size_t send_misread(Instant t, std::size_t sent, std::string_view read, Ratio byte_time);
  // When the next chunk is handed over, if nothing else happens; kNever while nothing waits or
  // while a full buffer holds the board.
  [[nodiscard]] Instant next_flush() const { return next_flush_; }
  // When a chunk could be handed over at the earliest, if the board begins to send no sooner than
  // at t and at so much time a byte.
  [[nodiscard]] Instant earliest_flush(Instant t, Ratio byte_time) const;
  // Hands over what is due at next_flush().
  void flush(const HostDescription& host, StepOutputs& outputs);

  // takes_at_once: nothing ever waits in the buffer. Notes what was lost while nobody listened.
  void open(Instant t, bool takes_at_once, StepOutputs& outputs);
  // Bytes in the buffer are gone with the game that left.
  void close(Instant t);
  // The game took so many bytes; what a full buffer held goes on at t.
  void taken(Instant t, std::int64_t bytes);
  // It works by other settings from t on; its timer starts anew, and what a full buffer held is tried
  // again. What waits in the buffer stays there, even where that is more than it now holds.
  void change(Instant t, const HostDescription& host, WireKind wire);
  // The board lost its power at t: what it had not sent yet never comes.
  void cut_at(Instant t);

  [[nodiscard]] bool is_open() const { return open_; }
  [[nodiscard]] bool holds_the_board() const { return held_; }
  [[nodiscard]] bool whole_lines() const { return whole_lines_; }
  // Bytes the game has not taken yet.
  [[nodiscard]] std::int64_t waiting() const { return waiting_; }
  [[nodiscard]] const HostCounts& counts() const { return counts_; }

  template <class Digest>
  void add_to(Digest& digest) const {
    flight_.add_to(digest);
    digest.add(last_flush_.ns);
    digest.add(next_flush_.ns);
    digest.add(waiting_);
    digest.add(open_);
    digest.add(takes_at_once_);
    digest.add(held_);
    digest.add(counts_.handed_over);
    digest.add(counts_.dropped_full);
    digest.add(counts_.dropped_unheard);
    digest.add(unheard_told_);
  }

 private:
  void plan();
  // The first beat of the timer (or frame) that finds a byte which arrives at `first`.
  [[nodiscard]] Instant beat_for(Instant first) const;
  void let_go(Instant t);
  [[nodiscard]] std::size_t due_count() const;
  void hand_over(std::size_t count, const HostDescription& host, StepOutputs& outputs);

  // saved:
  FlightToHost flight_;
  Instant last_flush_;
  Instant next_flush_ = kNever;
  std::int64_t waiting_ = 0;
  bool open_ = false;
  bool takes_at_once_ = false;
  bool held_ = false;
  HostCounts counts_;
  std::int64_t unheard_told_ = 0;  // of counts_.dropped_unheard, in notes so far
  // settings, constant but for change():
  Duration period_ = {};
  std::size_t chunk_bytes_max_ = 64;
  bool native_ = false;
  bool whole_lines_ = false;
};

}  // namespace understudy
