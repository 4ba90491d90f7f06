// The board's side of the line from the game: bytes that arrive go into a small ring; when it is
// full the newest are lost. What arrives while the board starts is lost too.
//
//   wire  ->  [ ring, one place stays free ]  ->  the program reads
#pragma once

#include <cstdint>

#include "sim/base/check.h"
#include "sim/base/ring.h"
#include "sim/base/time.h"

namespace understudy {

inline constexpr std::size_t kReceiveRingBytesMax = 1'024;

struct ReceiveCounts {
  std::int64_t received = 0;
  std::int64_t overrun = 0;
  std::int64_t lost_in_boot = 0;
};

// A regular value. `usable` bytes at most: the ring's size less one.
class ReceiveRing {
 public:
  // REQUIRES: 2 <= ring_bytes <= kReceiveRingBytesMax
  explicit ReceiveRing(int ring_bytes = 64) : usable_(static_cast<std::size_t>(ring_bytes - 1)) {
    CHECK(ring_bytes >= 2 && usable_ < kReceiveRingBytesMax, "the loader let a receive ring pass");
  }

  // Moves bytes that have arrived by t out of `wire` (TimedBytes or its like), in order.
  // Bytes that arrived before `listens_from` are lost in boot.
  template <class Wire>
  void draw(Wire& wire, Instant t, Instant listens_from) {
    while (!wire.empty()) {
      const Instant arrival = wire.first_arrival();
      if (arrival > t) return;
      const char byte = wire.pop();
      if (arrival < listens_from) ++counts_.lost_in_boot;
      else if (ring_.size() >= usable_) ++counts_.overrun;
      else accept(byte);
    }
  }
  [[nodiscard]] bool empty() const { return ring_.empty(); }
  [[nodiscard]] std::size_t size() const { return ring_.size(); }
  // REQUIRES: !empty()
  char pop() {
    const char byte = ring_.front();
    ring_.pop();
    return byte;
  }
  void clear() { ring_.clear(); }
  // Empty, of another size; what was counted stays. REQUIRES: as the constructor
  void make_anew(int ring_bytes) {
    const ReceiveCounts counts = counts_;
    *this = ReceiveRing(ring_bytes);
    counts_ = counts;
  }
  [[nodiscard]] const ReceiveCounts& counts() const { return counts_; }

  template <class Digest>
  void add_to(Digest& digest) const {
    digest.add(static_cast<std::int64_t>(ring_.size()));
    for (std::size_t i = 0; i < ring_.size(); ++i) digest.add(int{ring_.at(i)});
    digest.add(counts_.received);
    digest.add(counts_.overrun);
    digest.add(counts_.lost_in_boot);
  }

 private:
  void accept(char byte) {
    ring_.push(byte);
    ++counts_.received;
  }
  Ring<char, kReceiveRingBytesMax> ring_;
  std::size_t usable_ = 63;
  ReceiveCounts counts_;
};

}  // namespace understudy
