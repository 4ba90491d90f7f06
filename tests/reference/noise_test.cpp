// Chance against closed forms and handbook quantiles.
#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <vector>

#include "sim/base/random.h"
#include "sim/board/adc.h"

namespace understudy {
namespace {

std::vector<double> gaussians(int n, std::string_view name) {
  Stream stream(11, name);
  std::vector<double> z;
  for (int i = 0; i < n; ++i) z.push_back(static_cast<double>(stream.gaussian_micro()) / 1e6);
  return z;
}

// The tables behind the deviates are integers; this number is the same for every compiler, or the
// bytes of a run would not be.
TEST(Deviates, TheTablesAreTheSameEverywhere) {
  EXPECT_EQ(deviate_tables_digest(), 9865120301173771577ULL);
}

// Quantiles of the normal distribution: 0.975 -> 1.959964, 0.95 -> 1.644854, 0.99 -> 2.326348,
// 0.75 -> 0.674490 (any statistical handbook). Four standard deviations of a sample quantile.
TEST(Gaussian, QuantilesAreThoseOfTheHandbook) {
  constexpr int kDraws = 1'000'000;
  std::vector<double> z = gaussians(kDraws, "quantiles");
  std::sort(z.begin(), z.end());
  struct Row {
    double p;
    double quantile;
  };
  for (const Row row :
       {Row{0.5, 0.0}, Row{0.75, 0.674490}, Row{0.95, 1.644854}, Row{0.975, 1.959964},
        Row{0.99, 2.326348}, Row{0.025, -1.959964}, Row{0.999, 3.090232}}) {
    const double density = std::exp(-row.quantile * row.quantile / 2) / std::sqrt(2 * M_PI);
    const double deviation = std::sqrt(row.p * (1 - row.p) / kDraws) / density;
    EXPECT_NEAR(z[static_cast<std::size_t>(row.p * kDraws)], row.quantile, 4 * deviation) << row.p;
  }
}

// P(|z| > 1, 2, 3) = 0.317311, 0.045500, 0.0026998 (from the error function).
TEST(Gaussian, TailsAreThoseOfTheErrorFunction) {
  constexpr int kDraws = 1'000'000;
  const std::vector<double> z = gaussians(kDraws, "tails");
  for (const double edge : {1.0, 2.0, 3.0, 4.0}) {
    const double p = std::erfc(edge / std::sqrt(2.0));
    const auto beyond =
        std::count_if(z.begin(), z.end(), [&](double x) { return std::fabs(x) > edge; });
    EXPECT_NEAR(static_cast<double>(beyond) / kDraws, p, 4 * std::sqrt(p / kDraws)) << edge;
  }
}

// The relative standard deviation of a variance is sqrt(2 / (n - 1)): 1.414 % at 10^4.
TEST(Gaussian, VarianceOfTenThousandIsOneWithinFourDeviations) {
  const std::vector<double> z = gaussians(10'000, "variance");
  double sum = 0;
  double squares = 0;
  for (const double x : z) {
    sum += x;
    squares += x * x;
  }
  const double mean = sum / 1e4;
  EXPECT_NEAR(mean, 0, 0.04);
  EXPECT_NEAR(squares / 1e4 - mean * mean, 1.0, 0.057);
}

// Kolmogorov-Smirnov against the normal distribution: 1.9495 / sqrt(n) at alpha = 0.001.
TEST(Gaussian, TheWholeDistributionPassesKolmogorovSmirnov) {
  constexpr int kDraws = 100'000;
  std::vector<double> z = gaussians(kDraws, "shape");
  std::sort(z.begin(), z.end());
  double distance = 0;
  for (int i = 0; i < kDraws; ++i) {
    const double p = 0.5 * std::erfc(-z[static_cast<std::size_t>(i)] / std::sqrt(2.0));
    distance = std::max(
        {distance, std::fabs(p - i / double{kDraws}), std::fabs(p - (i + 1) / double{kDraws})});
  }
  EXPECT_LT(distance, 1.9495 / std::sqrt(kDraws));
}

// Bennett 1948: the error of rounding is 1 / sqrt(12) of a step.
TEST(Quantisation, TheConvertersErrorIsOneOverRootTwelve) {
  const Adc adc(BoardDescription{});
  Stream stream(5, "levels");
  double squares = 0;
  constexpr int kReadings = 100'000;
  for (int i = 0; i < kReadings; ++i) {
    const std::int64_t uv = stream.below(4'990'000);
    const double error =
        static_cast<double>(uv) * 1'024 / 5e6 - static_cast<double>(adc.code(uv)) - 0.5;
    squares += error * error;
  }
  EXPECT_NEAR(std::sqrt(squares / kReadings), 0.288675, 0.01 * 0.288675);
}

// IEEE 1241's effective number of bits (formula from memory): N - log2(rms * sqrt(12)); with half a
// step of Gaussian noise the total is sqrt(1/12 + 1/4) = 0.57735 and a 10-bit converter has 9 bits.
TEST(Quantisation, HalfAStepOfNoiseCostsOneBit) {
  const Adc adc(BoardDescription{});
  Stream levels(5, "levels");
  Stream noise(5, "noise");
  double squares = 0;
  constexpr int kReadings = 200'000;
  for (int i = 0; i < kReadings; ++i) {
    const std::int64_t uv = 100'000 + levels.below(4'800'000);
    const std::int64_t noisy = uv + noise.gaussian_micro() * 2'441'406 / 1'000'000'000;
    const double error =
        static_cast<double>(uv) * 1'024 / 5e6 - static_cast<double>(adc.code(noisy)) - 0.5;
    squares += error * error;
  }
  const double rms = std::sqrt(squares / kReadings);
  EXPECT_NEAR(rms, 0.577350, 0.01 * 0.577350);
  EXPECT_NEAR(10 - std::log2(rms * std::sqrt(12.0)), 9.0, 0.02);
}

// Chi-square over 256 bins: the critical value at alpha = 0.001 with 255 degrees is 330.52.
TEST(Uniform, BytesPassChiSquare) {
  Stream stream(7, "bytes");
  std::array<int, 256> bins{};
  constexpr int kDraws = 256'000;
  for (int i = 0; i < kDraws; ++i) ++bins[static_cast<std::size_t>(stream.below(256))];
  double chi_square = 0;
  for (const int count : bins) chi_square += (count - 1'000.0) * (count - 1'000.0) / 1'000.0;
  EXPECT_LT(chi_square, 330.52);
  EXPECT_GT(chi_square, 190.0);  // too even would be as wrong: alpha = 0.001 from below is 190.9
}

// Gaps of a Poisson process: mean 1, coefficient of variation 1, median ln 2; KS below 0.01949 at
// n = 10^4 (alpha = 0.001).
TEST(Exponential, GapsHaveTheirMeanSpreadMedianAndShape) {
  Stream stream(9, "gaps");
  constexpr int kDraws = 10'000;
  std::vector<double> gaps;
  for (int i = 0; i < kDraws; ++i)
    gaps.push_back(static_cast<double>(stream.exponential_micro()) / 1e6);
  std::sort(gaps.begin(), gaps.end());
  double sum = 0;
  double squares = 0;
  double distance = 0;
  for (int i = 0; i < kDraws; ++i) {
    const double gap = gaps[static_cast<std::size_t>(i)];
    sum += gap;
    squares += gap * gap;
    const double p = 1 - std::exp(-gap);
    distance = std::max(
        {distance, std::fabs(p - i / double{kDraws}), std::fabs(p - (i + 1) / double{kDraws})});
  }
  const double mean = sum / kDraws;
  EXPECT_NEAR(mean, 1.0, 0.04);
  EXPECT_NEAR(std::sqrt(squares / kDraws - mean * mean) / mean, 1.0, 0.04);
  EXPECT_NEAR(gaps[kDraws / 2], 0.693147, 0.04);
  EXPECT_LT(distance, 0.01949);
}

}  // namespace
}  // namespace understudy
