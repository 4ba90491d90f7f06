// The formulas of currents that the check of a panel and the board's supply both follow. What an
// output of each kind draws at a number is sim/board's work; where panels are checked, sim/panel's.
// Sources: Ohm's law; how a supply folds is written in docs/models/supply.md.
#pragma once

#include <algorithm>
#include <cstdint>

#include "sim/model/panel_description.h"

namespace understudy {

// What flows through an LED and all resistance in series with it; 0 where the supply is not above
// its forward voltage. REQUIRES: series_mohm > 0
constexpr std::int64_t led_ua(std::int64_t supply_uv, std::int64_t forward_uv,
                              std::int64_t series_mohm) {
  return supply_uv <= forward_uv ? 0 : (supply_uv - forward_uv) * 1'000 / series_mohm;
}

// Above what the port gives, it holds the current there, and its voltage falls as if the load were
// a resistor.
constexpr bool over_the_port(const BoardDescription& board, std::int64_t load_ua) {
  return board.supply_limit_ua > 0 && load_ua > board.supply_limit_ua;
}

// The voltage at the chip: the supply's, less what cable and plug keep. Never below 0.
constexpr std::int64_t voltage_at_chip_uv(const BoardDescription& board, std::int64_t load_ua) {
  const bool over = over_the_port(board, load_ua);
  const std::int64_t given_ua = over ? board.supply_limit_ua : load_ua;
  const std::int64_t port_uv = over ? board.supply_uv * given_ua / load_ua : board.supply_uv;
  return std::max<std::int64_t>(0, port_uv - given_ua * board.supply_resistance_mohm / 1'000);
}

// Whether the chip restarts when this load lasts for board.brown_out_after.
constexpr bool gives_way(const BoardDescription& board, std::int64_t load_ua) {
  if (board.brown_out_uv == 0) return false;
  return over_the_port(board, load_ua) || voltage_at_chip_uv(board, load_ua) < board.brown_out_uv;
}

}  // namespace understudy
