// Edit distance (Levenshtein), one row at a time.
#include "protocol/nearest_name.h"

#include <algorithm>
#include <vector>

namespace understudy::protocol {
namespace {

std::size_t count_edits(std::string_view from, std::string_view to) {
  std::vector<std::size_t> row(to.size() + 1);
  for (std::size_t at = 0; at <= to.size(); ++at) row[at] = at;
  for (std::size_t line = 1; line <= from.size(); ++line) {
    std::size_t diagonal = row[0];
    row[0] = line;
    for (std::size_t at = 1; at <= to.size(); ++at) {
      const std::size_t change = diagonal + (from[line - 1] == to[at - 1] ? 0 : 1);
      diagonal = row[at];
      row[at] = std::min({row[at] + 1, row[at - 1] + 1, change});
    }
  }
  return row[to.size()];
}

}  // namespace

std::string_view find_nearest_name(std::string_view written,
                                   std::span<const std::string_view> known) {
  std::string_view nearest;
  std::size_t least = written.size() / 3 + 1;
  for (const std::string_view name : known) {
    const std::size_t edits = count_edits(written, name);
    if (edits < least || (edits == least && nearest.empty())) {
      least = edits;
      nearest = name;
    }
  }
  return nearest;
}

}  // namespace understudy::protocol
