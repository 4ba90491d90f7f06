// A potentiometer's track: from the position of the knob to the share of the supply at the wiper.
// Noise, impedance and the converter are the board's work.
// Model of the log tapers: y = (b^x - 1) / (b - 1) with b = (1/m - 1)^2, m the share at half travel
// (algebra: the exponential through 0, m at the middle, and 1). An m above one half gives the
// antilog: the same curve turned over.
#pragma once

#include <cstdint>
#include <vector>

#include "sim/model/panel_description.h"

namespace understudy {

// Shares in parts per billion of the whole track.
inline constexpr std::int64_t kWholeTrackPpb = 1'000'000'000;

// One point of the exponential taper; x in [0, 1] as num / 1024. + - * / sqrt only.
double exponential_taper(double middle, int x_in_1024);

// Constant once made; a log taper is a table of integers.
class Track {
 public:
  Track() = default;
  explicit Track(const PotPart& pot);

  // The share at the wiper for a position in [0, 1'000'000].
  [[nodiscard]] std::int64_t share_ppb(std::int32_t position_ppm) const {
    const std::int64_t tapered =
        table_.empty() ? std::int64_t{position_ppm} * 1'000 : tapered_ppb(position_ppm);
    return straight_ ? tapered : low_ppb_ + tapered * reach_ppm_ / 1'000'000;
  }

 private:
  [[nodiscard]] std::int64_t tapered_ppb(std::int32_t position_ppm) const;
  std::vector<std::int32_t> table_;  // 1025 points; empty for a linear track
  std::int64_t low_ppb_ = 0;
  std::int64_t reach_ppm_ = 1'000'000;
  bool straight_ = true;             // nothing lost at the ends
};

}  // namespace understudy
