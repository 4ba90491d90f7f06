// The flush timer, the chunks, and the bounded buffer.
#include "sim/wire/host_side.h"

#include <algorithm>

namespace understudy {

HostSide::HostSide(const HostDescription& host, WireKind wire, bool whole_lines)
    : period_(host.flush),
      chunk_bytes_max_(static_cast<std::size_t>(host.chunk_bytes_max)),
      native_(wire == WireKind::kNativeUsb),
      whole_lines_(whole_lines) {}

std::size_t HostSide::send(Instant t, std::string_view bytes, Ratio byte_time) {
  flight_.set_byte_time(byte_time);
  const std::size_t taken = whole_lines_ ? flight_.send_apart(t, bytes) : flight_.send(t, bytes);
  plan();
  return taken;
}

std::size_t HostSide::send_misread(Instant t, std::size_t sent, std::string_view read,
                                   Ratio byte_time) {
  flight_.set_byte_time(byte_time);
  const std::size_t taken = flight_.send_misread(t, sent, read);
  plan();
  return taken;
}

// A native port's frames stand on a grid from power-on; a bridge's timer starts anew at each
// hand-over.
Instant HostSide::beat_for(Instant first) const {
  if (period_.ns == 0) return later(first, last_flush_);
  const Instant origin = native_ ? Instant{} : last_flush_;
  return grid_at_or_after(later(first, last_flush_ + nanoseconds(1)), origin, period_);
}

// When: whole lines at their last byte; else when a chunk is full (a native port waits for its
// frame even then), or at the first beat of the timer that finds a byte there.
void HostSide::plan() {
  if (flight_.empty() || held_) {
    next_flush_ = kNever;
    return;
  }
  if (whole_lines_) {
    next_flush_ = later(last_flush_, flight_.first_run_end());
    return;
  }
  next_flush_ = beat_for(flight_.first_arrival());
  if (!native_ && flight_.size() >= chunk_bytes_max_)
    next_flush_ = later(last_flush_, earlier(next_flush_, flight_.arrival(chunk_bytes_max_ - 1)));
}

Instant HostSide::earliest_flush(Instant t, Ratio byte_time) const {
  if (held_) return kNever;
  if (t == kNever) return next_flush_;
  if (whole_lines_) return flight_.empty() ? t : next_flush_;
  const auto after_bytes = [&](std::size_t n) {
    return Instant{t.ns + static_cast<std::int64_t>(n) * byte_time.num / byte_time.den};
  };
  const Instant beat = beat_for(flight_.empty() ? after_bytes(1) : flight_.first_arrival());
  if (native_) return beat;
  if (flight_.size() >= chunk_bytes_max_) return next_flush_;
  return earlier(beat, later(last_flush_, after_bytes(chunk_bytes_max_ - flight_.size())));
}

std::size_t HostSide::due_count() const {
  if (whole_lines_) return flight_.first_run_size();
  return flight_.arrived(next_flush_, native_ ? flight_.size() : chunk_bytes_max_);
}

void HostSide::flush(const HostDescription& host, StepOutputs& outputs) {
  std::size_t left = due_count();
  // No piece is larger than the whole buffer, else a board that waits for room would wait for ever.
  const std::size_t piece =
      std::min(whole_lines_ ? left : chunk_bytes_max_, static_cast<std::size_t>(host.buffer_bytes));
  while (left > 0) {
    const std::size_t size = std::min(left, piece);
    const bool fits = waiting_ + static_cast<std::int64_t>(size) <= host.buffer_bytes;
    if (open_ && !fits && host.full == WhenFull::kHoldsTheBoard) {
      held_ = true;
      break;
    }
    hand_over(size, host, outputs);
    left -= size;
  }
  last_flush_ = next_flush_;
  plan();
}

void HostSide::hand_over(std::size_t count, const HostDescription& host, StepOutputs& outputs) {
  const auto size = static_cast<std::int64_t>(count);
  if (!open_) {
    counts_.dropped_unheard += size;
    flight_.drop(count);
    return;
  }
  const std::int64_t room = std::max<std::int64_t>(0, host.buffer_bytes - waiting_);
  const std::int64_t accepted = std::min(size, room);
  if (accepted > 0) {
    Chunk chunk{.due = next_flush_,
                .first = outputs.bytes.size(),
                .size = static_cast<std::size_t>(accepted)};
    flight_.take(chunk.size, [&](std::string_view bytes) { outputs.bytes += bytes; });
    outputs.chunks.push_back(chunk);
    if (!takes_at_once_) waiting_ += accepted;
    counts_.handed_over += accepted;
  }
  if (accepted < size) {
    flight_.drop(static_cast<std::size_t>(size - accepted));
    counts_.dropped_full += size - accepted;
    outputs.notes.push_back({next_flush_, NoteKind::kHostBufferFull, size - accepted});
  }
}

void HostSide::open(Instant t, bool takes_at_once, StepOutputs& outputs) {
  open_ = true;
  takes_at_once_ = takes_at_once;
  if (takes_at_once) {
    waiting_ = 0;
    let_go(t);
  }
  const std::int64_t lost = counts_.dropped_unheard - unheard_told_;
  unheard_told_ = counts_.dropped_unheard;
  if (lost > 0) outputs.notes.push_back({t, NoteKind::kNobodyListening, lost});
}

void HostSide::close(Instant t) {
  open_ = false;
  waiting_ = 0;
  let_go(t);
}

void HostSide::taken(Instant t, std::int64_t bytes) {
  waiting_ = std::max<std::int64_t>(0, waiting_ - std::max<std::int64_t>(0, bytes));
  let_go(t);
}

// What a full buffer held goes on at t, not before.
void HostSide::let_go(Instant t) {
  if (!held_) return;
  held_ = false;
  last_flush_ = later(last_flush_, t);
  plan();
}

void HostSide::change(Instant t, const HostDescription& host, WireKind wire) {
  period_ = host.flush;
  chunk_bytes_max_ = static_cast<std::size_t>(host.chunk_bytes_max);
  native_ = wire == WireKind::kNativeUsb;
  held_ = false;
  last_flush_ = later(last_flush_, t);
  plan();
}

void HostSide::cut_at(Instant t) {
  flight_.cut_at(t);
  if (whole_lines_) last_flush_ = later(last_flush_, t);  // a line cut short ends now, not before
  plan();
}

}  // namespace understudy
