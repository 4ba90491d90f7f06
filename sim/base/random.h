// Chance, made by ourselves so that it is the same everywhere: one seed a run, one stream for each
// source, keyed by the source's written name and counted per sample. Draw n of a source is the same
// whatever else is in the file; a source that is off draws nothing.
// Model: a counter hashed by SplitMix64 (Steele, Lea, Flood, OOPSLA 2014); Gaussian deviates by the
// inverse of the normal distribution (Wichura, AS 241, 1988) tabulated in integers.
#pragma once

#include <cstdint>
#include <string_view>

#include "sim/base/fingerprint.h"
#include "sim/base/ratio.h"

namespace understudy {

// A regular value: a copy goes on with the same draws. Equal (key, count) means equal future.
class Stream {
 public:
  Stream() = default;
  // `name` is the source's written name, such as "control.power.noise".
  Stream(std::uint64_t seed, std::string_view name);

  // The next 64 random bits.
  std::uint64_t bits() { return mixed(key_ + ++count_ * 0x9e3779b97f4a7c15ULL); }
  // Even in [0, n). REQUIRES: 0 < n < 2^32; the bias of at most n/2^64 is not measurable.
  std::int64_t below(std::int64_t n) {
    return static_cast<std::int64_t>((static_cast<unsigned __int128>(bits()) *
                                      static_cast<std::uint64_t>(n)) >> 64);
  }
  // Even in [low, high], both included.
  std::int64_t between(std::int64_t low, std::int64_t high) { return low + below(high - low + 1); }
  // True with the chance r.
  bool chance(Ratio r) { return below(r.den) < r.num; }
  // A normal deviate in millionths of its standard deviation; mean 0, largest about 6.3 million.
  std::int64_t gaussian_micro();
  // An exponential deviate of mean 1, in millionths; largest about 22 million.
  std::int64_t exponential_micro();

  // The same stream as it stands after n draws in all, and as it will stand after n more.
  [[nodiscard]] Stream after(std::uint64_t n) const {
    Stream other = *this;
    other.count_ = n;
    return other;
  }
  [[nodiscard]] Stream skipped(std::uint64_t n) const { return after(count_ + n); }
  [[nodiscard]] std::uint64_t count() const { return count_; }
  [[nodiscard]] std::uint64_t key() const { return key_; }

 private:
  std::uint64_t key_ = 0;
  std::uint64_t count_ = 0;
};

// The digest of the integer tables behind the deviates; a test holds it to a written number.
std::uint64_t deviate_tables_digest();

}  // namespace understudy
