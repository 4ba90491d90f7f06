// Flashes of one lamp (or rgb) from the numbers that it is given: more than three on-off cycles in
// any second are told, WCAG 2.2 success criterion 2.3.1 (flash_counter.h). A caution, not a proof.
#pragma once

#include <array>
#include <cstdint>
#include <optional>

#include "sim/base/time.h"
#include "sim/model/panel_description.h"
#include "sim/observe/flash_counter.h"

namespace understudy {

struct LampFigures {
  std::int64_t changes = 0;
  int flashes_most = 0;             // in any sliding second
  std::optional<Instant> worst_at;  // the end of that second
  std::int64_t too_many = 0;        // stretches with more than three in a second
  [[nodiscard]] bool cautions() const { return flashes_most > kFlashesAllowed; }
};

// A regular value. Times never go back.
class LampStatistics {
 public:
  // All dark at first. REQUIRES: a lamp or an rgb
  LampStatistics(const OutputDescription& lamp, const BoardDescription& board);

  // Its part (0 where it has one) was given this number. Parts that are set at one time are one
  // change: the last of them comes with `whole`.
  void set(Instant t, std::size_t part, std::int64_t number, bool whole);
  [[nodiscard]] const LampFigures& figures() const { return figures_; }

 private:
  [[nodiscard]] double luminance() const;
  OutputDescription lamp_;
  BoardDescription board_;
  std::array<std::int64_t, 3> numbers_ = {};
  FlashCounter counter_;
  LampFigures figures_;
  bool too_many_ = false;
};

}  // namespace understudy
