// From what a hand did to what the game showed for it: how long that took, for each [[answer]] of a
// panel, and for pairs of control and output that go together though nobody wrote them down.
//
// A latency runs from when the line that shows the press had come to the game's computer to when
// the line that shows the answer came from the game (or, for what the board shows, to when it set
// the output). The way from the hand into that line is not in it: `check` tells it for a panel.
//
// A pair is found where an output became lit, dark or another number within a second of at least 80
// of 100 presses (5 at least), and chance alone would do that less than once in a thousand times:
// as often, by the binomial tail, as a moment picked at random is followed by such a change within
// the 95th of the latencies. How often that is comes from the times between such changes as they
// were, so that a lamp that blinks by itself is no answer to anything.
#pragma once

#include <array>
#include <cstdint>
#include <map>
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <tuple>
#include <vector>

#include "sim/base/time.h"
#include "sim/measure/answer_words.h"
#include "sim/measure/quantiles.h"
#include "sim/measure/trace.h"
#include "sim/model/panel.h"

namespace understudy {

inline constexpr Duration kPairWithin = seconds(1);
inline constexpr std::int64_t kPairPressesLeast = 5;
inline constexpr double kPairShareLeast = 0.8;
inline constexpr double kPairChanceMost = 1e-3;
inline constexpr std::size_t kPairsMax = 1'024;  // looked at; further ones are not

struct LatencyFigures {
  std::int64_t count = 0;
  std::optional<Duration> median;
  std::optional<Duration> percentile_95;
  std::optional<Duration> worst;
};

// One [[answer]].
struct AnswerFigures {
  std::string when;
  std::string expect;
  Duration within = {};
  bool measurable = true;    // lines carry both
  std::int64_t presses = 0;  // times that `when` happened
  LatencyFigures latency;    // of those that were answered before the next one
  std::int64_t late = 0;     // of them: after `within`
  std::int64_t missed = 0;   // not answered before the next one, nor within ten times `within`
  std::int64_t already = 0;  // shown at the press already: nothing to measure
};

// One pair that was found.
struct PairFigures {
  std::string when;
  std::string expect;
  std::int64_t presses = 0;
  LatencyFigures latency;
  double chance = 0;     // that so many answers are chance
  bool written = false;  // the panel has it as an [[answer]] already
  Duration within = {};  // proposed: a round time, a quarter above the worst
};

// Bounded, a value but for the shared panel. Times handed in never go back.
class AnswerStatistics {
 public:
  // REQUIRES: panel
  explicit AnswerStatistics(std::shared_ptr<const Panel> panel);

  // A line that the game has got shows these numbers, in the order of Panel::to_game_fields; only
  // `carried` count.
  void to_game(Instant t, std::span<const std::uint16_t> carried,
               std::span<const std::int64_t> numbers);
  // The game answered with these numbers, in the order of Panel::to_panel_fields.
  void to_panel(Instant t, std::span<const std::uint16_t> carried,
                std::span<const std::int64_t> numbers);
  // The fields to the game whose changes count here; lines in which none of them changes need not
  // be told.
  [[nodiscard]] std::vector<std::uint16_t> fields_asked_for() const;
  // The port was opened or closed: nothing that waits is answered, and numbers begin anew.
  void interrupt();

  [[nodiscard]] std::vector<AnswerFigures> answers() const;
  // The best for each control and output, most certain first. `length`: of what was observed.
  [[nodiscard]] std::vector<PairFigures> pairs(Duration length) const;
  // Latencies of an answer over time, in milliseconds.
  [[nodiscard]] const Trace& trace(std::size_t answer) const { return watched_[answer].trace; }

 private:
  struct Watched {
    std::vector<TriggerOf> triggers;
    std::optional<Expectation> expected;
    Duration within = {};
    std::optional<Instant> pressed_at;
    std::int64_t presses = 0;
    std::int64_t late = 0;
    std::int64_t missed = 0;
    std::int64_t already = 0;
    Quantiles latencies;
    Trace trace{2'048};
  };
  // What may begin a pair.
  struct Cause {
    std::uint16_t field = 0;
    std::string does;
    Trigger trigger;
    std::int64_t count = 0;
    Instant at;
    bool fresh = false;  // `at` is within kPairWithin
  };
  using PairKey = std::tuple<std::uint16_t, std::uint16_t, ShowsKind>;  // cause, output, how
  struct Pair {
    std::int64_t answered = 0;  // the cause's count when it was answered last
    Quantiles latencies;
  };
  struct OutputSeen {
    std::vector<std::uint16_t> fields;
    bool lit = false;
    // By ShowsKind: lit, dark, another number.
    std::array<Quantiles, 3> gaps = {};  // between such changes
    std::array<std::optional<Instant>, 3> last = {};
  };
  void add_causes();
  void press(Watched& watched, Instant t);
  void answer(Watched& watched, Instant t);
  void happened(std::size_t output, ShowsKind kind, Instant t);
  void take_output(std::size_t output, Instant t, bool changed);
  [[nodiscard]] std::optional<PairFigures> judge(const PairKey& key, const Pair& pair,
                                                 Duration length) const;

  std::shared_ptr<const Panel> panel_;
  std::vector<Watched> watched_;
  std::vector<Cause> causes_;
  std::vector<std::vector<std::uint16_t>> causes_of_;   // by field to the game
  std::vector<std::vector<std::uint16_t>> watched_of_;  // the same
  std::vector<OutputSeen> outputs_;
  std::vector<std::uint16_t> fresh_;  // causes
  std::map<PairKey, Pair> pairs_;
  std::vector<std::int64_t> shown_;
  std::vector<std::int64_t> sent_;
  std::vector<char> sent_known_;
  bool shown_known_ = false;
  std::optional<Instant> began_;
};

// The pairs that no [[answer]] names yet, as text to paste into a panel file; empty: none.
std::string proposed_answers(std::span<const PairFigures> pairs);

}  // namespace understudy
