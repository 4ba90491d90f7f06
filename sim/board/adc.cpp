// Timing and settling of the converter.
#include "sim/board/adc.h"

namespace understudy {
namespace {

// e^-x for x >= 0: halve x until it is small, a series, then square back. + - * / only.
double exp_of_minus(double x) {
  int halvings = 0;
  while (x > 0.125 && halvings < 64) {
    x *= 0.5;
    ++halvings;
  }
  double term = 1.0;
  double sum = 1.0;
  for (int n = 1; n < 16; ++n) {
    term *= -x / n;
    sum += term;
  }
  for (; halvings > 0; --halvings) sum *= sum;
  return sum;
}

}  // namespace

Adc::Adc(const BoardDescription& board)
    : clock_{1'000'000'000'000 / board.adc_clock_mhz},
      reference_uv_(board.reference_uv),
      top_((std::int64_t{1} << board.adc_bits) - 1),
      bits_(board.adc_bits) {}

std::int64_t settling_residue_in_2_24(std::int64_t source_mohm, std::int64_t internal_mohm,
                                      std::int64_t capacitor_ff, Duration window) {
  const double ohms = static_cast<double>(source_mohm + internal_mohm) * 1e-3;
  const double tau_ns = ohms * static_cast<double>(capacitor_ff) * 1e-6;
  if (tau_ns <= 0.0) return 0;
  const double share = exp_of_minus(static_cast<double>(window.ns) / tau_ns);
  return static_cast<std::int64_t>(share * static_cast<double>(kResidueOne) + 0.5);
}

}  // namespace understudy
