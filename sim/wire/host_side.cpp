// The flush timer, the chunks, and the bounded buffer.
#include "sim/wire/host_side.h"

#include <algorithm>

namespace understudy {

HostSide::HostSide(const HostDescription& host, WireKind wire, bool whole_lines)
    : period_(host.flush),
      chunk_bytes_max_(static_cast<std::size_t>(host.chunk_bytes_max)),
      native_(wire == WireKind::kNativeUsb),
      whole_lines_(whole_lines) {}

void HostSide::send(Instant t, std::string_view bytes, Ratio byte_time) {
  flight_.set_byte_time(byte_time);
  if (whole_lines_) flight_.send_apart(t, bytes);
  else flight_.send(t, bytes);
  plan();
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
  const Instant first = flight_.first_arrival();
  const Instant beat =
      period_.ns == 0 ? first : grid_at_or_after(later(first, last_flush_ + nanoseconds(1)), last_flush_, period_);
  next_flush_ = beat;
  if (!native_ && flight_.size() >= chunk_bytes_max_)
    next_flush_ = later(last_flush_, earlier(beat, flight_.arrival(chunk_bytes_max_ - 1)));
}

Instant HostSide::earliest_flush(Instant t, Ratio byte_time) const {
  if (!flight_.empty() || held_ || t == kNever) return next_flush_;
  if (whole_lines_) return t;
  const Instant first{t.ns + byte_time.num / byte_time.den};
  if (period_.ns == 0) return first;
  const Instant beat =
      grid_at_or_after(later(first, last_flush_ + nanoseconds(1)), last_flush_, period_);
  const auto chunk = static_cast<std::int64_t>(chunk_bytes_max_);
  return native_ ? beat : earlier(beat, Instant{t.ns + chunk * byte_time.num / byte_time.den});
}

std::size_t HostSide::due_count() const {
  if (whole_lines_) return flight_.first_run_size();
  return flight_.arrived(next_flush_, native_ ? flight_.size() : chunk_bytes_max_);
}

void HostSide::flush(const HostDescription& host, StepOutputs& outputs) {
  std::size_t left = due_count();
  const std::size_t piece = whole_lines_ ? left : chunk_bytes_max_;
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
  const std::int64_t accepted = std::min<std::int64_t>(size, host.buffer_bytes - waiting_);
  if (accepted > 0) {
    Chunk chunk{.due = next_flush_, .first = outputs.bytes.size(),
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

void HostSide::close() {
  open_ = false;
  waiting_ = 0;
  held_ = false;
  plan();
}

void HostSide::taken(Instant t, std::int64_t bytes) {
  waiting_ = std::max<std::int64_t>(0, waiting_ - bytes);
  if (!held_) return;
  held_ = false;
  last_flush_ = later(last_flush_, t);
  plan();
}

void HostSide::cut_at(Instant t) {
  flight_.cut_at(t);
  plan();
}

}  // namespace understudy
