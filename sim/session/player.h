// Hands that move by themselves: `wander` as an idle person would, `sweep` through each control in
// turn. Seeded, so the same run plays the same; what they do is recorded like any hand.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "sim/base/random.h"
#include "sim/model/inputs.h"
#include "sim/model/panel.h"

namespace understudy {

enum class PlayKind : std::uint8_t { kWander, kSweep };

// "wander" or "sweep"; nothing for any other word.
std::optional<PlayKind> play_kind(std::string_view word);

// A regular value.
class Player {
 public:
  Player(PlayKind kind, const Panel& panel, std::uint64_t seed, const std::string& seat);

  // When the next hand action is due; kNever where no hand moves any control of the panel.
  [[nodiscard]] Instant next_due() const { return next_due_; }
  // The action due at next_due(); plans the one after. REQUIRES: next_due() is not kNever.
  Input play(const Panel& panel);

  // From t on it moves the controls of `panel`. What it had planned for a control that is gone is
  // dropped; all else goes on. REQUIRES: next_due() is not before t
  void reload(Instant t, const Panel& panel, const Panel& before);

 private:
  // Each plans one movement from `next_due_` on: its actions, and when the next one may begin.
  void wander(const ControlDescription& control);
  void wander_stick(const ControlDescription& control);
  void sweep(const ControlDescription& control);
  void sweep_stick(const ControlDescription& control);
  void find_movable(const Panel& panel);
  void plan(Instant at, std::uint8_t part, std::int32_t to_ppm, Duration duration);
  void plan_turn(Instant at, std::int64_t clicks, std::int64_t detents, Duration duration);

  PlayKind kind_;
  Stream stream_;
  Instant next_due_;
  std::vector<std::uint16_t> movable_;  // controls that a hand moves
  std::size_t moved_ = 0;               // of them: the one that was moved last
  std::vector<Input> planned_;          // what is left of its movement, in order of time
  Instant free_;                        // when the next movement begins
};

}  // namespace understudy
