// Load to voltage to brown-out.
#include "sim/board/supply.h"

namespace understudy {

void Supply::set_load(Instant t, std::int64_t load_ua, const BoardDescription& board) {
  if (happened(t)) {
    // It has given up already; only restart() ends that.
    load_ua_ = load_ua;
    voltage_uv_ = voltage_at_chip_uv(board, load_ua);
    return;
  }
  const Instant before = gives_up_;
  restart(t, load_ua, board);
  // It was low already: the time counts from where it began.
  if (before != kNever && gives_up_ != kNever) gives_up_ = before;
}

void Supply::restart(Instant t, std::int64_t load_ua, const BoardDescription& board) {
  load_ua_ = load_ua;
  voltage_uv_ = voltage_at_chip_uv(board, load_ua);
  gives_up_ = gives_way(board, load_ua) ? t + board.brown_out_after : kNever;
}

}  // namespace understudy
