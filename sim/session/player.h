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

  // When the next hand action is due; kNever where the panel has no control.
  [[nodiscard]] Instant next_due() const { return next_due_; }
  // The action due at next_due(); plans the one after. REQUIRES: next_due() is not kNever.
  Input play(const Panel& panel);

 private:
  Input wander(const Panel& panel);
  Input sweep(const Panel& panel);
  PlayKind kind_;
  Stream stream_;
  Instant next_due_;
  std::uint16_t control_ = 0;
  int stage_ = 0;                     // of a sweep, or 1 while a wandering hand holds a button
};

}  // namespace understudy
