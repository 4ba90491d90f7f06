// What runs in a chip between its reset and its program: the text that its ROM sends, and a boot
// loader that takes bytes from the game for the beginning of an upload and waits for the rest. Who
// hears the text, and what the program does, is not known here.
//
//   reset |-- 10 ms --| text |----- boot ----->| program
//                     a byte arrives: |-- boot_disturbed -->| program   (each further one: anew)
#pragma once

#include <cstdint>

#include "sim/base/time.h"
#include "sim/model/panel_description.h"

namespace understudy {

// Until the chip's clock runs and its ROM speaks (from memory: some milliseconds; our choice).
inline constexpr Duration kTextAfterReset = milliseconds(10);

// A regular value.
class Loader {
 public:
  // The chip is reset at t; undisturbed its program begins at `runs_from`. `speaks`: it has text to
  // send, and a wire to send it on.
  void restart(Instant t, Instant runs_from, bool speaks) {
    *this = {};
    if (speaks) text_at_ = earlier(t + kTextAfterReset, runs_from);
    left_ = false;
  }
  // When its text begins; kNever where there is none, or it has begun.
  [[nodiscard]] Instant text_at() const { return text_at_; }
  void text_begins() { text_at_ = kNever; }

  // Hears what has arrived in `wire` (TimedBytes or its like) by t and leaves it there. Returns
  // when the program begins. REQUIRES: what arrived before was heard and taken out; silence > 0
  template <class Wire>
  Instant hear(const Wire& wire, Instant t, Instant runs_from, Duration silence) {
    for (std::size_t i = 0; i < wire.size(); ++i) {
      const Instant arrival = wire.arrival(i);
      if (arrival > t || arrival >= runs_from) break;
      ++heard_;
      runs_from = later(runs_from, arrival + silence);
    }
    return runs_from;
  }
  // Bytes since the reset.
  [[nodiscard]] std::int64_t heard() const { return heard_; }

  // The program runs: nothing more is heard until the next reset.
  void leave() { left_ = true; }
  [[nodiscard]] bool has_left() const { return left_; }
  [[nodiscard]] bool is_in_use() const { return !left_ || text_at_ != kNever || heard_ > 0; }

  template <class Digest>
  void add_to(Digest& digest) const {
    digest.add(text_at_.ns);
    digest.add(heard_);
    digest.add(left_);
  }

 private:
  // saved:
  Instant text_at_ = kNever;
  std::int64_t heard_ = 0;
  bool left_ = true;
};

}  // namespace understudy
