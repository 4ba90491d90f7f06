// The supply of the board: what voltage a load leaves at the chip, and when the chip gives up. What
// each output draws is load.h's work; the restart that follows is the device's.
// Model and sources: docs/models/supply.md; the formulas are those of sim/model/currents.h.
#pragma once

#include <cstdint>

#include "sim/base/time.h"
#include "sim/model/currents.h"

namespace understudy {

// A regular value. It changes at the times that it is told of, and in between stays as it is, so
// asking never changes what comes.
//
//   load   ____|~~~~~~~~~~~~~~      a load that is too much...
//   low        |--- after ---|      ...and lasts for board.brown_out_after
//   next_due                 ^      here the chip restarts, unless the load falls before
class Supply {
 public:
  Supply() = default;
  explicit Supply(const BoardDescription& board, std::int64_t load_ua = 0) {
    restart(Instant{}, load_ua, board);
  }

  // From t on so much is drawn. REQUIRES: t not before the last change. A load that falls at the
  // very moment of the brown-out comes too late.
  void set_load(Instant t, std::int64_t load_ua, const BoardDescription& board);

  // The chip starts anew at t with this load: what was before is over. With a load that is still
  // too much it gives up again.
  void restart(Instant t, std::int64_t load_ua, const BoardDescription& board);

  [[nodiscard]] std::int64_t load_ua() const { return load_ua_; }
  // At the chip. It follows the load at once.
  [[nodiscard]] std::int64_t voltage_uv() const { return voltage_uv_; }
  // By how much that is below the supply without load: what is not ratiometric sees it.
  [[nodiscard]] std::int64_t sag_uv(const BoardDescription& board) const {
    return board.supply_uv - voltage_uv_;
  }
  // When the chip gives up if nothing changes; kNever where it holds.
  [[nodiscard]] Instant next_due() const { return gives_up_; }
  // Whether it has given up by t. True until restart().
  [[nodiscard]] bool happened(Instant t) const { return t >= gives_up_; }

  template <class Digest>
  void add_to(Digest& digest) const {
    digest.add(load_ua_);
    digest.add(gives_up_.ns);
  }

 private:
  std::int64_t load_ua_ = 0;
  std::int64_t voltage_uv_ = 0;
  Instant gives_up_ = kNever;
};

}  // namespace understudy
