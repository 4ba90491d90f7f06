// The tapers as tables of integers, and the divider's algebra.
#include "sim/controls/pot.h"

#include <cmath>

namespace understudy {
namespace {

constexpr int kTaperSteps = 1024;

// b^(n / 1024) from ten square roots, exact on every machine.
double power_in_1024(double b, int n) {
  double result = 1.0;
  double root = b;
  for (int bit = kTaperSteps / 2; bit > 0; bit /= 2) {
    root = std::sqrt(root);
    if ((n & bit) != 0) result *= root;
  }
  return n >= kTaperSteps ? b : result;
}

std::vector<std::int32_t> two_lines(std::int64_t middle_ppb) {
  constexpr int kHalf = kTaperSteps / 2;
  std::vector<std::int32_t> table;
  for (int i = 0; i <= kHalf; ++i)
    table.push_back(static_cast<std::int32_t>(middle_ppb * i / kHalf));
  for (int i = 1; i <= kHalf; ++i)
    table.push_back(
        static_cast<std::int32_t>(middle_ppb + (kWholeTrackPpb - middle_ppb) * i / kHalf));
  return table;
}

}  // namespace

double exponential_taper(double middle, int x_in_1024) {
  const double root = 1.0 / middle - 1.0;
  const double b = root * root;
  return (power_in_1024(b, x_in_1024) - 1.0) / (b - 1.0);
}

Track::Track(const PotPart& pot)
    : low_ppb_(pot.end_low_ppm * 1'000),
      reach_ppm_(1'000'000 - pot.end_low_ppm - pot.end_high_ppm),
      load_ppm_(pot.load_mohm == 0
                    ? 0
                    : static_cast<std::int64_t>(static_cast<__int128>(pot.resistance_mohm) *
                                                1'000'000 / pot.load_mohm)),
      straight_(pot.end_low_ppm == 0 && pot.end_high_ppm == 0 && pot.load_mohm == 0) {
  if (pot.middle_ppm == 500'000) return;
  const double middle = static_cast<double>(pot.middle_ppm) / 1e6;
  if (pot.taper == Taper::kLinear) {
    table_ = two_lines(pot.middle_ppm * 1'000);
    return;
  }
  for (int i = 0; i <= kTaperSteps; ++i)
    table_.push_back(static_cast<std::int32_t>(exponential_taper(middle, i) * 1e9 + 0.5));
}

std::int64_t Track::tapered_ppb(std::int32_t position_ppm) const {
  const std::int64_t place = std::int64_t{position_ppm} * kTaperSteps;
  const auto i = static_cast<std::size_t>(place / 1'000'000);
  if (i >= kTaperSteps) return table_.back();
  return table_[i] + (std::int64_t{table_[i + 1]} - table_[i]) * (place % 1'000'000) / 1'000'000;
}

std::int64_t Track::loaded_ppb(std::int64_t share_ppb) const {
  const auto bow = static_cast<__int128>(share_ppb) * (kWholeTrackPpb - share_ppb) /
                   kWholeTrackPpb * load_ppm_ / 1'000'000;
  return static_cast<std::int64_t>(static_cast<__int128>(share_ppb) * kWholeTrackPpb /
                                   (kWholeTrackPpb + bow));
}

}  // namespace understudy
