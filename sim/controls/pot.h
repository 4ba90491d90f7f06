// A potentiometer's track: from the position of the knob to the share of the supply at the wiper.
// Noise, impedance and the converter are the board's work.
// Model of the log tapers: y = (b^x - 1) / (b - 1) with b = (1/m - 1)^2, m the share at half travel
// (algebra: the exponential through 0, m at the middle, and 1). An m above one half gives the
// antilog: the same curve turned over. A linear track with an m other than one half is two straight
// lines that meet at half travel, as makers print cheap log tracks, or a pot whose middle is off.
// What loads the wiper (a resistance to ground beside the converter) bends the track: the divider's
// algebra, s / (1 + s (1 - s) R / load).
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
    if (straight_) return tapered;
    const std::int64_t reached = low_ppb_ + tapered * reach_ppm_ / 1'000'000;
    return load_ppm_ == 0 ? reached : loaded_ppb(reached);
  }

 private:
  [[nodiscard]] std::int64_t tapered_ppb(std::int32_t position_ppm) const;
  [[nodiscard]] std::int64_t loaded_ppb(std::int64_t share_ppb) const;
  std::vector<std::int32_t> table_;  // 1025 points; empty for a linear track
  std::int64_t low_ppb_ = 0;
  std::int64_t reach_ppm_ = 1'000'000;
  std::int64_t load_ppm_ = 0;  // the track's resistance in millionths of its load
  bool straight_ = true;       // nothing lost at the ends, and no load
};

}  // namespace understudy
