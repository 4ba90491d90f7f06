// The analogue-to-digital converter: when it samples, how long it takes, what code it gives, and
// how much of the channel before is left in its hold capacitor. Integers from the pin on.
// Sources: ATmega328P data sheet 8271H, section 24.4 (13 clocks a conversion, 25 the first after
// enabling, sample and hold 1.5 and 13.5 clocks after the start, start aligned to the ADC clock);
// the code is the sheet's result formula, truncating: Vin * 2^bits / Vref, held to the range.
#pragma once

#include <cstdint>

#include "sim/base/ratio.h"
#include "sim/base/time.h"
#include "sim/model/panel_description.h"

namespace understudy {

struct Conversion {
  Instant samples_at;
  Instant done_at;
};

// Constant once made.
class Adc {
 public:
  Adc() = default;
  explicit Adc(const BoardDescription& board);

  // A conversion that the program starts at t (it waits for the next edge of the ADC clock, which
  // runs from power-on).
  [[nodiscard]] Conversion conversion(Instant t, bool first) const {
    const Instant start = grid_at_or_after(t, Instant{0}, clock_);
    // In half clocks: 1.5 and 13 normally, 13.5 and 25 for the first.
    const std::int64_t sample_half_clocks = first ? 27 : 3;
    const std::int64_t all_clocks = first ? 25 : 13;
    return {.samples_at = start + clock_ * sample_half_clocks / 2,
            .done_at = start + clock_ * all_clocks};
  }
  // The code for a voltage at the hold capacitor.
  [[nodiscard]] std::int64_t code(std::int64_t microvolts) const {
    if (microvolts <= 0) return 0;
    const std::int64_t counted = (microvolts << bits_) / reference_uv_;
    return counted < top_ ? counted : top_;
  }
  // 2^bits - 1.
  [[nodiscard]] std::int64_t top() const { return top_; }
  [[nodiscard]] std::int64_t reference_uv() const { return reference_uv_; }

 private:
  Duration clock_ = {8'000};
  std::int64_t reference_uv_ = 5'000'000;
  std::int64_t top_ = 1'023;
  int bits_ = 10;
};

// The share of a step between two channels that is left in the hold capacitor when the window of
// 1.5 ADC clocks ends, in units of 2^-24: exp(-t / (R * C)), R source plus internal. By sqrt and
// products only, so that it is the same everywhere.
std::int64_t settling_residue_in_2_24(std::int64_t source_mohm, std::int64_t internal_mohm,
                                      std::int64_t capacitor_ff, Duration window);

inline constexpr std::int64_t kResidueOne = std::int64_t{1} << 24;

}  // namespace understudy
