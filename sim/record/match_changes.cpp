// Rows for the first list, columns for the second; only columns near in time are kept.
#include "sim/record/match_changes.h"

#include <algorithm>
#include <cstdint>
#include <cstdlib>

namespace understudy {
namespace {

enum class Came : std::uint8_t { kPair, kOnlyA, kOnlyB };

// One row: costs of having dealt with the first i of a and the first j of b, for j from `first` on.
struct Row {
  std::size_t first = 0;
  std::vector<std::int64_t> costs;
  std::vector<Came> came;

  [[nodiscard]] std::size_t last() const { return first + costs.size() - 1; }
  // Right of the band all of b stays alone; left of it nothing is considered.
  [[nodiscard]] std::int64_t cost(std::size_t j) const {
    if (j <= last()) return costs[j - first];
    return costs.back() + static_cast<std::int64_t>(j - last()) * kUnmatchedCost.ns;
  }
};

// Nothing: these two are never the same.
std::optional<std::int64_t> pair_cost(const TimedNumber& a, const TimedNumber& b, Causes causes) {
  if (causes == Causes::kOfFirst ? b.at < a.since : a.at < b.since) return std::nullopt;
  const std::int64_t apart = std::abs((b.at - a.at).ns);
  if (a.number == b.number && apart <= 2 * kUnmatchedCost.ns) return apart;
  if (a.number != b.number && apart < kUnmatchedCost.ns) return apart + kUnmatchedCost.ns;
  return std::nullopt;
}

// The columns near a change: [first, end) of b.
struct Near {
  std::size_t first = 0;
  std::size_t end = 0;
};

Near near_of(const TimedNumber& a, std::span<const TimedNumber> b, Near before) {
  const auto from = [&](Instant at) {
    return static_cast<std::size_t>(
        std::lower_bound(b.begin(), b.end(), at,
                         [](const TimedNumber& one, Instant t) { return one.at < t; }) -
        b.begin());
  };
  Near near{from(a.at - kUnmatchedCost * 2), from(a.at + kUnmatchedCost * 2 + nanoseconds(1))};
  const std::size_t here = from(a.at);
  near.first = std::max(near.first, here - std::min(here, kPartnersMax / 2));
  near.end = std::min(near.end, here + kPartnersMax / 2);
  return {std::max(near.first, before.first), std::max(near.end, before.end)};
}

Row first_row() {
  return {.first = 0, .costs = {0}, .came = {Came::kOnlyB}};
}

struct ForRow {
  const TimedNumber& a;
  std::span<const TimedNumber> b;
  Near near;
  Causes causes;
};

Row next_row(const Row& above, const ForRow& given) {
  const auto& [a, b, near, causes] = given;
  Row row{.first = near.first, .costs = {}, .came = {}};
  for (std::size_t j = near.first; j <= near.end; ++j) {
    std::int64_t cost = above.cost(j) + kUnmatchedCost.ns;
    Came came = Came::kOnlyA;
    if (j > near.first && row.costs.back() + kUnmatchedCost.ns < cost) {
      cost = row.costs.back() + kUnmatchedCost.ns;
      came = Came::kOnlyB;
    }
    if (j > above.first) {
      const auto pair = pair_cost(a, b[j - 1], causes);
      if (pair && above.cost(j - 1) + *pair <= cost) {
        cost = above.cost(j - 1) + *pair;
        came = Came::kPair;
      }
    }
    row.costs.push_back(cost);
    row.came.push_back(came);
  }
  return row;
}

// How many stay alone, and how far apart the others are together.
std::pair<std::size_t, std::int64_t> badness(const std::vector<MatchedPair>& pairs,
                                             std::span<const TimedNumber> a,
                                             std::span<const TimedNumber> b) {
  std::pair<std::size_t, std::int64_t> bad{0, 0};
  for (const MatchedPair& pair : pairs) {
    if (!pair.a || !pair.b)
      ++bad.first;
    else
      bad.second += std::abs((b[*pair.b].at - a[*pair.a].at).ns);
  }
  return bad;
}

}  // namespace

std::vector<MatchedPair> match_changes(std::span<const TimedNumber> a,
                                       std::span<const TimedNumber> b) {
  std::vector<MatchedPair> first = match_changes(a, b, Causes::kOfFirst);
  if (badness(first, a, b) == std::pair<std::size_t, std::int64_t>{0, 0}) return first;
  std::vector<MatchedPair> second = match_changes(a, b, Causes::kOfSecond);
  return badness(second, a, b) < badness(first, a, b) ? second : first;
}

std::vector<MatchedPair> match_changes(std::span<const TimedNumber> a,
                                       std::span<const TimedNumber> b, Causes causes) {
  std::vector<Row> rows{first_row()};
  Near near;
  for (const TimedNumber& one : a) {
    near = near_of(one, b, near);
    rows.push_back(next_row(rows.back(), {one, b, near, causes}));
    rows[rows.size() - 2].costs = {rows[rows.size() - 2].costs.back()};  // no longer needed
  }
  std::vector<MatchedPair> pairs;
  std::size_t i = a.size();
  std::size_t j = b.size();
  while (i > 0 || j > 0) {
    const Row& row = rows[i];
    const bool beyond = j >= row.first + row.came.size();
    const Came came = i == 0 || beyond ? Came::kOnlyB : row.came[j - row.first];
    MatchedPair pair;
    if (came != Came::kOnlyB) pair.a = --i;
    if (came != Came::kOnlyA) pair.b = --j;
    pairs.push_back(pair);
  }
  std::reverse(pairs.begin(), pairs.end());
  return pairs;
}

}  // namespace understudy
