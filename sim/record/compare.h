// Two recordings of the same hands side by side: what the outputs showed after each hand, how soon,
// and what differs first. Where files come from and how it is shown is the caller's work.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "sim/base/result.h"
#include "sim/record/performance.h"

namespace understudy {

// Two runs of one game at 60 pictures a second may differ by one picture (16.7 ms), by how the
// board's loop and the host side's grid lie to it (up to 20 ms with the panels here), and by the
// machine; three pictures, 50 ms, are what a person who presses begins to notice.
inline constexpr Duration kToleranceDefault = milliseconds(50);

enum class AlignBy : std::uint8_t {
  kFirstHand,  // what lies before it is not compared, but what the outputs show then is
  kStart,      // power-on
  kOpened,     // the game's first opening of a port
  kControl,    // the first movement of one control
};
struct Align {
  AlignBy by = AlignBy::kFirstHand;
  std::string control;  // kControl: "bell", or "tram-2/bell"
};

struct CompareOptions {
  Duration tolerance = kToleranceDefault;  // of times; numbers have to be the same
  Align align;
  std::vector<std::string> outputs;  // only these: "signal_red", "glow.r"; empty: all
};

enum class AnswerKind : std::uint8_t {
  kAlike,
  kEarlier,  // in the second, by more than the tolerance
  kLater,
  kMissing,  // in the second
  kExtra,    // only in the second
  kOther,    // another number
};
std::string_view name_of(AnswerKind kind);

// One change of an output, in both or in one.
struct AnswerRow {
  AnswerKind kind = AnswerKind::kAlike;
  Duration time;                    // since time zero, in the first recording's time
  std::optional<std::size_t> deed;  // place in Comparison::deeds; none: before all hands
  std::uint16_t output = 0;         // place in the first recording's outputs
  std::optional<Duration> a;        // after its hand
  std::optional<Duration> b;
  std::optional<std::int64_t> number_a;
  std::optional<std::int64_t> number_b;

  [[nodiscard]] std::optional<Duration> difference() const {
    if (!a || !b) return std::nullopt;
    return *b - *a;
  }
};

struct ComparedDeed {
  Duration time;  // since time zero, in the first recording
  std::uint16_t seat = 0;
  std::string words;
};

struct Comparison {
  Instant zero_a;
  Instant zero_b;
  std::vector<ComparedDeed> deeds;
  std::vector<AnswerRow> rows;       // in order of time
  std::vector<std::string> remarks;  // what limits the comparison, for people
  std::int64_t counts[6] = {};       // of rows, by AnswerKind
  std::optional<Duration> median;    // of the differences of what is in both
  std::optional<Duration> worst;     // the one furthest from 0
  std::optional<std::size_t> first;  // the first row that is not alike

  [[nodiscard]] std::int64_t count(AnswerKind kind) const {
    return counts[static_cast<std::size_t>(kind)];
  }
  [[nodiscard]] std::int64_t unlike() const {
    return static_cast<std::int64_t>(rows.size()) - count(AnswerKind::kAlike);
  }
};

// A recording with its name for messages.
struct Named {
  std::string name;
  Performance performance;
};

// Errors (kUnusable): other controls, other hands, nothing to align by, an output that is not
// there.
Result<Comparison> compare(const Named& a, const Named& b, const CompareOptions& options);

// "at 1.500000 s, after 'bell pressed', seat tram: ding is set to 255 after 20.1 ms in a.jsonl and
// not in b.jsonl". REQUIRES: comparison.first
std::string first_difference(const Comparison& comparison, const Named& a, const Named& b);

// +20.1 ms
std::string signed_ms(Duration difference);

}  // namespace understudy
