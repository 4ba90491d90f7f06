// What each output draws from the supply for its numbers, and all of them together. What that makes
// of the voltage is supply.h's work; what could be drawn at most is worked out where panels are
// checked.
// Over PWM the average counts, for the board's capacitor evens it out. Sources: docs/models/
// outputs.md.
#pragma once

#include <array>
#include <cstdint>
#include <span>

#include "sim/model/panel.h"

namespace understudy {

// What the output draws while its parts show `numbers`, one for each of line_parts(); `moving`: its
// needle is.
std::int64_t output_ua(const OutputDescription& output, std::span<const std::int64_t> numbers,
                       bool moving, const BoardDescription& board);

// What all outputs draw together; kept up to date output by output. A regular value.
class Load {
 public:
  // REQUIRES: output < kOutputsMax; 0 <= ua < 2^31
  void set(std::size_t output, std::int64_t ua) {
    total_ua_ += ua - of_output_[output];
    of_output_[output] = static_cast<std::int32_t>(ua);
  }
  void clear() { *this = {}; }
  [[nodiscard]] std::int64_t of_output_ua(std::size_t output) const { return of_output_[output]; }
  // Without the board's own (BoardDescription::base_current_ua).
  [[nodiscard]] std::int64_t outputs_ua() const { return total_ua_; }

 private:
  std::array<std::int32_t, kOutputsMax> of_output_ = {};
  std::int64_t total_ua_ = 0;
};

}  // namespace understudy
