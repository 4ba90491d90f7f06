// Counts how often a light flashes in any one second, as WCAG 2.2 success criterion 2.3.1 has it.
// Which light that is, and what to say of it, is left to others.
//
// Source: WCAG 2.2, success criterion 2.3.1 and its terms "general flash and red flash thresholds".
// There a screen is meant and its area counts; for lamps of a box this is a caution, not a proof.
#pragma once

#include <cstddef>
#include <deque>
#include <optional>

#include "sim/base/time.h"

namespace understudy {

inline constexpr double kFlashChange = 0.10;       // of the greatest luminance, at least
inline constexpr double kFlashDarkerBelow = 0.80;  // the darker of both states
inline constexpr int kFlashesAllowed = 3;          // in any one second
inline constexpr Duration kFlashWindow = seconds(1);

// Counts the flashes of one course of relative luminance, 0 to 1. A flash is a pair of opposing
// changes; slow and stepped ones count as the whole way from one turn to the next.
class FlashCounter {
 public:
  // REQUIRES: t not before the last. Of more than 4096 opposing changes in one second the newest
  // count.
  void take(Instant t, double luminance);
  // Whole flashes in the second that ends with t, t included.
  [[nodiscard]] int flashes(Instant t) const;

 private:
  static constexpr std::size_t kChangesMax = 4'096;
  std::deque<Instant> changes_;  // opposing ones, by turns, of the last second
  double start_ = 0;             // of the way that it is on
  double end_ = 0;
  bool rises_ = false;
  bool begun_ = false;
  bool counted_ = false;                // the way that it is on
  std::optional<bool> counted_rising_;  // the last that was counted
};

}  // namespace understudy
