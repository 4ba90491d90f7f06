// Which change of an output in one recording is the same as which in another: by value and by time
// after the same hand, in order. One that is missing does not make all after it late.
#pragma once

#include <cstddef>
#include <optional>
#include <span>
#include <utility>
#include <vector>

#include "sim/base/time.h"

namespace understudy {

// Changes of one output. Times are one time scale for both: where hands lie otherwise, the caller
// moves one to the other.
struct TimedNumber {
  Instant at;
  std::int64_t number = 0;
  Instant since = {};  // what it answers: nothing that came before is the same answer
};
// Whose `since` counts. What answers sooner tells which hand is answered; the slower one may come
// when the next hand has moved already, and would tell that.
enum class Causes { kOfFirst, kOfSecond };

// What leaving a change without partner costs, in lateness; two that are further apart than twice
// this are never the same one, and another value at another time never by more than this.
inline constexpr Duration kUnmatchedCost = seconds(1);
// How many partners are considered for one change: those nearest in time.
inline constexpr std::size_t kPartnersMax = 512;

struct MatchedPair {
  std::optional<std::size_t> a;  // place in the first list; none: only in the second
  std::optional<std::size_t> b;
};

// The cheapest pairing that keeps both orders (an edit distance, as in Needleman and Wunsch 1970,
// https://doi.org/10.1016/0022-2836(70)90057-4, within a band of time): pairs of equal numbers cost
// how far apart they are, pairs of unequal ones kUnmatchedCost more. In order.
// Causes are those under which fewer stay alone, then those under which pairs are nearer in time.
// Time and memory: the number of pairs within 2 s of each other. REQUIRES: both ascend in time
std::vector<MatchedPair> match_changes(std::span<const TimedNumber> a,
                                       std::span<const TimedNumber> b);
std::vector<MatchedPair> match_changes(std::span<const TimedNumber> a,
                                       std::span<const TimedNumber> b, Causes causes);

}  // namespace understudy
