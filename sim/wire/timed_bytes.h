// Bytes on their way along a wire: a bounded queue in which each byte has a time of arrival.
// Kept as runs {start, byte time, count}, not byte by byte; a run is cut only where something
// cuts it. Who sends and who receives is not known here.
#pragma once

#include <algorithm>
#include <array>
#include <cstdint>
#include <cstring>
#include <string_view>

#include "sim/base/check.h"
#include "sim/base/ratio.h"
#include "sim/base/ring.h"
#include "sim/base/time.h"

namespace understudy {

// A run of bytes without a gap: byte i (from 0) has arrived at start + (i + 1) * byte_time, rounded
// up to the nanosecond (early bytes would hide overruns that the real cable shows).
//
//   start |--byte 0--|--byte 1--|--byte 2--|   gap   |--byte 0--| of the next run
struct ByteRun {
  Instant start;
  Ratio byte_time = {1, 1};
  std::int32_t first = 0;  // bytes of the run already gone from the queue
  std::int32_t count = 0;  // bytes of the run in all

  [[nodiscard]] Instant end_of(std::int64_t i) const {
    if (byte_time.den == 1) return {start.ns + (i + 1) * byte_time.num};
    return {start.ns + ((i + 1) * byte_time.num + byte_time.den - 1) / byte_time.den};
  }
  [[nodiscard]] Instant end() const { return end_of(count - 1); }
  [[nodiscard]] std::int32_t left() const { return count - first; }
  // How many of its bytes have ended by t, those already gone included.
  [[nodiscard]] std::int64_t ended_by(Instant t) const {
    if (t < start) return 0;
    if (end() <= t) return count;  // most often all of them
    std::int64_t ended = (t.ns - start.ns) / (byte_time.num / byte_time.den + 1);
    if (ended >= count) return count;
    while (ended < count && end_of(ended) <= t) ++ended;
    return ended;
  }
};

inline constexpr std::int32_t kRunBytesMax = 1 << 16;  // then a new run begins: exact products

// A regular value of fixed size. N: bytes at most; R: runs at most.
template <std::size_t N, std::size_t R>
class TimedBytes {
 public:
  explicit TimedBytes(Ratio byte_time = {1, 1}) : byte_time_(byte_time) {}

  // What is sent from now on takes so long a byte.
  void set_byte_time(Ratio byte_time) { byte_time_ = byte_time; }

  [[nodiscard]] std::size_t size() const { return size_; }
  [[nodiscard]] std::size_t room() const { return N - size_; }
  [[nodiscard]] bool empty() const { return size_ == 0; }
  [[nodiscard]] std::size_t run_count() const { return runs_.size(); }
  [[nodiscard]] Ratio byte_time() const { return byte_time_; }
  // When the last byte has arrived; the sender is free from then on. Power-on if there was none.
  [[nodiscard]] Instant free_at() const { return free_at_; }

  // Bytes whose sending may begin at `t` or when the wire is free, whichever is later. Bytes that
  // find no room, for themselves or for one more run, are not taken: returns how many were.
  std::size_t send(Instant t, std::string_view bytes) {
    const std::size_t taken = bytes.size() < room() ? bytes.size() : room();
    if (taken == 0 || !extend_runs(later(t, free_at_), static_cast<std::int32_t>(taken))) return 0;
    const std::size_t begin = wrapped(first_ + size_);
    const std::size_t straight = taken < N - begin ? taken : N - begin;
    std::memcpy(bytes_.data() + begin, bytes.data(), straight);
    if (taken > straight) std::memcpy(bytes_.data(), bytes.data() + straight, taken - straight);
    size_ += taken;
    return taken;
  }
  // As send, but never joined to the run before: keeps the borders of what was sent at once.
  std::size_t send_apart(Instant t, std::string_view bytes) {
    apart_ = true;
    return send(t, bytes);
  }

  // As send, for `sent` bytes of which the far end reads these others instead: the wire is busy for
  // as long as those that were sent take, and what is read is spread evenly over that time.
  std::size_t send_misread(Instant t, std::size_t sent, std::string_view read) {
    const Ratio time = byte_time_;
    const Instant start = later(t, free_at_);
    const ByteRun whole{
        .start = start, .byte_time = time, .count = static_cast<std::int32_t>(sent)};
    const Instant end = sent == 0 ? start : whole.end();
    std::size_t taken = 0;
    if (!read.empty() && end > start) {
      byte_time_ = {(end - start).ns, static_cast<std::int64_t>(read.size())};
      taken = send_apart(t, read);
      byte_time_ = time;
    }
    free_at_ = end;
    apart_ = true;
    return taken;
  }

  // When byte i of the queue arrives (0 = next). REQUIRES: i < size()
  [[nodiscard]] Instant arrival(std::size_t i) const {
    for (std::size_t r = 0; r < runs_.size(); ++r) {
      const ByteRun& run = runs_.at(r);
      const auto left = static_cast<std::size_t>(run.left());
      if (i < left) return run.end_of(run.first + static_cast<std::int64_t>(i));
      i -= left;
    }
    CHECK(false, "the arrival of a byte that is not in the queue was asked for");
    return kNever;
  }
  [[nodiscard]] Instant first_arrival() const {
    if (empty()) return kNever;
    const ByteRun& run = runs_.front();
    return run.end_of(run.first);
  }
  // The arrival of the last byte of the first run; its bytes. REQUIRES: !empty()
  [[nodiscard]] Instant first_run_end() const { return runs_.front().end(); }
  [[nodiscard]] std::size_t first_run_size() const {
    return static_cast<std::size_t>(runs_.front().left());
  }

  // How many have arrived by t, at most `most`.
  [[nodiscard]] std::size_t arrived(Instant t, std::size_t most) const {
    std::size_t count = 0;
    for (std::size_t r = 0; r < runs_.size() && count < most; ++r) {
      const ByteRun& run = runs_.at(r);
      const std::int64_t ended = run.ended_by(t);
      if (ended <= run.first) break;
      count += static_cast<std::size_t>(ended - run.first);
      if (ended < run.count) break;
    }
    return count < most ? count : most;
  }

  // Takes the next byte. REQUIRES: !empty()
  char pop() {
    CHECK(!empty(), "a byte was taken from an empty wire");
    const char byte = bytes_[first_];
    drop(1);
    return byte;
  }
  // Calls sink(std::string_view) with the next n bytes, in at most two pieces, and drops them.
  template <class Sink>
  void take(std::size_t n, Sink&& sink) {
    const std::size_t straight = n < N - first_ ? n : N - first_;
    if (straight > 0) sink(std::string_view(bytes_.data() + first_, straight));
    if (n > straight) sink(std::string_view(bytes_.data(), n - straight));
    drop(n);
  }
  // Forgets the next n bytes. REQUIRES: n <= size()
  void drop(std::size_t n) {
    CHECK(n <= size_, "more bytes were dropped than there are");
    first_ = wrapped(first_ + n);
    size_ -= n;
    while (n > 0) {
      ByteRun& run = runs_.front();
      const auto left = static_cast<std::size_t>(run.left());
      if (n < left) {
        run.first += static_cast<std::int32_t>(n);
        return;
      }
      n -= left;
      runs_.pop();
    }
  }
  // Forgets all bytes that have not arrived by t (the sender lost its power); returns how many.
  std::size_t cut_at(Instant t) {
    const std::size_t kept = arrived(t, size_);
    Ring<ByteRun, R> shorter;
    std::size_t left = kept;
    for (std::size_t r = 0; r < runs_.size() && left > 0; ++r) {
      ByteRun run = runs_.at(r);
      const std::size_t keep = std::min(left, static_cast<std::size_t>(run.left()));
      run.count = run.first + static_cast<std::int32_t>(keep);
      shorter.push(run);
      left -= keep;
    }
    const std::size_t lost = size_ - kept;
    runs_ = shorter;
    size_ = kept;
    free_at_ = earlier(free_at_, t);
    apart_ = true;  // the last run may end before free_at_ now
    return lost;
  }
  template <class Digest>
  void add_to(Digest& digest) const {
    digest.add(static_cast<std::int64_t>(size_));
    digest.add(free_at_.ns);
    digest.add(byte_time_.num);
    digest.add(byte_time_.den);
    digest.add(apart_);
    for (std::size_t i = 0; i < size_; ++i) digest.add(int{bytes_[wrapped(first_ + i)]});
    for (std::size_t r = 0; r < runs_.size(); ++r) {
      digest.add(runs_.at(r).start.ns);
      digest.add(runs_.at(r).byte_time.num);
      digest.add(runs_.at(r).byte_time.den);
      digest.add(std::int64_t{runs_.at(r).first} << 32 | runs_.at(r).count);
    }
  }

 private:
  static std::size_t wrapped(std::size_t i) { return i >= N ? i - N : i; }

  // False, and nothing changed, when a new run is needed and there is no place for one.
  bool extend_runs(Instant start, std::int32_t count) {
    const bool joins = !apart_ && !runs_.empty() && start == free_at_ &&
                       runs_.back().byte_time == byte_time_ &&
                       runs_.back().count + count < kRunBytesMax;
    if (joins) {
      runs_.back().count += count;
    } else if (!runs_.push(
                   {.start = start, .byte_time = byte_time_, .first = 0, .count = count})) {
      return false;
    }
    apart_ = false;
    free_at_ = runs_.back().end();
    return true;
  }

  // saved:
  std::array<char, N> bytes_{};
  std::size_t first_ = 0;
  std::size_t size_ = 0;
  Ring<ByteRun, R> runs_;
  Instant free_at_;
  Ratio byte_time_;
  bool apart_ = false;
};

}  // namespace understudy
