// Virtual time: whole nanoseconds since power-on. Nothing here knows a real clock; the pacer in
// sim/link is the only reader of one.
#pragma once

#include <compare>
#include <cstdint>
#include <limits>

namespace understudy {

// A length of time. Negative lengths are allowed as differences.
struct Duration {
  std::int64_t ns = 0;
  friend constexpr auto operator<=>(Duration, Duration) = default;
};

// A point of virtual time, ns since power-on. `kNever` stands for "not by itself".
struct Instant {
  std::int64_t ns = 0;
  friend constexpr auto operator<=>(Instant, Instant) = default;
};

inline constexpr Instant kNever{std::numeric_limits<std::int64_t>::max()};

constexpr Duration nanoseconds(std::int64_t n) { return {n}; }
constexpr Duration microseconds(std::int64_t n) { return {n * 1'000}; }
constexpr Duration milliseconds(std::int64_t n) { return {n * 1'000'000}; }
constexpr Duration seconds(std::int64_t n) { return {n * 1'000'000'000}; }

constexpr Duration operator+(Duration a, Duration b) { return {a.ns + b.ns}; }
constexpr Duration operator-(Duration a, Duration b) { return {a.ns - b.ns}; }
constexpr Duration operator*(Duration a, std::int64_t n) { return {a.ns * n}; }
constexpr Duration operator/(Duration a, std::int64_t n) { return {a.ns / n}; }
constexpr Instant operator+(Instant t, Duration d) { return {t.ns + d.ns}; }
constexpr Instant operator-(Instant t, Duration d) { return {t.ns - d.ns}; }
constexpr Duration operator-(Instant a, Instant b) { return {a.ns - b.ns}; }

constexpr Instant earlier(Instant a, Instant b) { return a < b ? a : b; }
constexpr Instant later(Instant a, Instant b) { return a < b ? b : a; }

// The first multiple of `period` (counted from `origin`) that is not before t.
// REQUIRES: period > 0, t >= origin
constexpr Instant grid_at_or_after(Instant t, Instant origin, Duration period) {
  const std::int64_t n = (t.ns - origin.ns + period.ns - 1) / period.ns;
  return {origin.ns + n * period.ns};
}

}  // namespace understudy
