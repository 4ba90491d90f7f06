// Streams of chance and the integer tables of their deviates, worked out while compiling.
#include "sim/base/random.h"

#include <array>
#include <bit>
#include <cstddef>

namespace understudy {
namespace {

// A deviate is drawn by inverting its distribution at u in (0, 1). u is cut into octaves (its
// leading zeros), each octave into equal segments; within a segment the inverse is a straight line.
constexpr int kOctaves = 33;
constexpr int kSegmentBits = 6;
constexpr int kSegments = 1 << kSegmentBits;

// ln f for f in [1/2, 1] by the series of the area tangent; exact to a double's last digits.
constexpr double log_of_half_to_one(double f) {
  const double s = (f - 1.0) / (f + 1.0);
  double power = s;
  double sum = 0.0;
  for (int n = 1; n < 40; n += 2) {
    sum += power / n;
    power *= s * s;
  }
  return 2.0 * sum;
}

constexpr double kLog2 = 0.693147180559945309417;

constexpr double square_root(double x) {
  double root = x > 1.0 ? x : 1.0;
  for (int i = 0; i < 40; ++i) root = 0.5 * (root + x / root);
  return root;
}

constexpr double quotient_of_polynomials(double r, const std::array<double, 8>& top,
                                         const std::array<double, 8>& bottom) {
  double above = 0.0;
  double below = 0.0;
  for (std::size_t i = 8; i-- > 0;) {
    above = above * r + top[i];
    below = below * r + bottom[i];
  }
  return above / below;
}

// Wichura, Algorithm AS 241 (Applied Statistics 37, 1988), PPND16: the centre and the near tail.
constexpr std::array<double, 8> kCentreTop = {
    3.3871328727963666080e0,  1.3314166789178437745e2, 1.9715909503065514427e3,
    1.3731693765509461125e4,  4.5921953931549871457e4, 6.7265770927008700853e4,
    3.3430575583588128105e4,  2.5090809287301226727e3};
constexpr std::array<double, 8> kCentreBottom = {
    1.0,                      4.2313330701600911252e1, 6.8718700749205790830e2,
    5.3941960214247511077e3,  2.1213794301586595867e4, 3.9307895800092710610e4,
    2.8729085735721942674e4,  5.2264952788528545610e3};
constexpr std::array<double, 8> kTailTop = {
    1.42343711074968357734e0, 4.63033784615654529590e0, 5.76949722146069140550e0,
    3.64784832476320460504e0, 1.27045825245236838258e0, 2.41780725177450611770e-1,
    2.27238449892691845833e-2, 7.74545014278341407640e-4};
constexpr std::array<double, 8> kTailBottom = {
    1.0,                      2.05319162663775882187e0, 1.67638483018380384940e0,
    6.89767334985100004550e-1, 1.48103976427480074590e-1, 1.51986665636164571966e-2,
    5.47593808499534494600e-4, 1.05075007164441684324e-9};

// -inverse of the normal distribution at p = 2^-(octave + 1) * f, f in [1/2, 1], so p <= 1/2.
constexpr double normal_inverse(int octave, double f) {
  double p = f;
  for (int i = 0; i <= octave; ++i) p *= 0.5;
  const double q = 0.5 - p;
  if (q <= 0.425) return q * quotient_of_polynomials(0.180625 - q * q, kCentreTop, kCentreBottom);
  const double minus_log_p = (octave + 1) * kLog2 - log_of_half_to_one(f);
  return quotient_of_polynomials(square_root(minus_log_p) - 1.6, kTailTop, kTailBottom);
}

constexpr std::int32_t rounded_micro(double x) { return static_cast<std::int32_t>(x * 1e6 + 0.5); }

using GaussianTable = std::array<std::array<std::int32_t, kSegments + 1>, kOctaves>;
using LogTable = std::array<std::int32_t, kSegments + 1>;

constexpr GaussianTable make_gaussian_table() {
  GaussianTable table{};
  for (int octave = 0; octave < kOctaves; ++octave)
    for (int i = 0; i <= kSegments; ++i)
      table[static_cast<std::size_t>(octave)][static_cast<std::size_t>(i)] =
          rounded_micro(normal_inverse(octave, 0.5 + 0.5 * i / kSegments));
  return table;
}

constexpr LogTable make_log_table() {
  LogTable table{};
  for (int i = 0; i <= kSegments; ++i)
    table[static_cast<std::size_t>(i)] =
        rounded_micro(-log_of_half_to_one(0.5 + 0.5 * i / kSegments));
  return table;
}

constexpr GaussianTable kGaussian = make_gaussian_table();
constexpr LogTable kMinusLog = make_log_table();

// Where u = (v + 1/2) / 2^63 lies: octave, segment, and the place within it in 1/2^20.
struct Place {
  int octave;
  std::size_t segment;
  std::int64_t within;
};

Place place_of(std::uint64_t v) {
  const int zeros = std::countl_zero(v << 1 | 1);
  const int octave = zeros < kOctaves ? zeros : kOctaves - 1;
  const std::uint64_t after_leading_one = (v << 1 | 1) << octave << 1;
  return {octave, static_cast<std::size_t>(after_leading_one >> (64 - kSegmentBits)),
          static_cast<std::int64_t>(after_leading_one << kSegmentBits >> 44)};
}

template <class Table>
std::int64_t on_line(const Table& table, const Place& place) {
  const std::int64_t left = table[place.segment];
  const std::int64_t right = table[place.segment + 1];
  return left + ((right - left) * place.within >> 20);
}

std::uint64_t key_of(std::uint64_t seed, std::string_view name) {
  Fingerprint key;
  key.add(seed);
  key.add(name);
  return key.value();
}

}  // namespace

Stream::Stream(std::uint64_t seed, std::string_view name) : key_(key_of(seed, name)) {}

std::int64_t Stream::gaussian_micro() {
  const std::uint64_t drawn = bits();
  const Place place = place_of(drawn >> 1);
  const std::int64_t size = on_line(kGaussian[static_cast<std::size_t>(place.octave)], place);
  return (drawn & 1) != 0 ? -size : size;
}

std::int64_t Stream::exponential_micro() {
  const Place place = place_of(bits() >> 1);
  return place.octave * 693'147 + on_line(kMinusLog, place);
}

std::uint64_t deviate_tables_digest() {
  Fingerprint digest;
  for (const auto& octave : kGaussian)
    for (const std::int32_t value : octave) digest.add(static_cast<std::int64_t>(value));
  for (const std::int32_t value : kMinusLog) digest.add(static_cast<std::int64_t>(value));
  return digest.value();
}

}  // namespace understudy
