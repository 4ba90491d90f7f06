// What the lists of kinds of controls and outputs share: their words, their meanings, and which of
// the shared keys each has.
#pragma once

#include <algorithm>
#include <string>
#include <string_view>
#include <vector>

#include "sim/base/check.h"
#include "sim/model/kinds.h"
#include "sim/panel/key_table.h"

namespace understudy {

// "pot|button|switch..."
template <class KindRow>
std::string joined_words(const std::vector<KindRow>& kinds) {
  std::string text;
  for (const KindRow& row : kinds)
    text += (text.empty() ? "" : "|") + std::string(kind_word(row.kind));
  return text;
}

// "pot: turned or slid; button: springs back..."
template <class KindRow>
std::string joined_meanings(const std::vector<KindRow>& kinds) {
  std::string text;
  for (const KindRow& row : kinds)
    text += (text.empty() ? "" : "; ") + std::string(kind_word(row.kind)) + ": " +
            std::string(row.meaning);
  return text + ".";
}

// Whether `name` is in a list such as "pin|bounce|keys.hold".
inline bool names_key(std::string_view list, std::string_view name) {
  while (!list.empty()) {
    const std::size_t bar = std::min(list.find('|'), list.size());
    if (list.substr(0, bar) == name) return true;
    list.remove_prefix(std::min(bar + 1, list.size()));
  }
  return false;
}

// The row that stands for `kind` in a list in the order of the kinds.
template <class KindRow, class Kind>
const KindRow& row_of_kind(const std::vector<KindRow>& kinds, Kind kind) {
  const KindRow& row = kinds[static_cast<std::size_t>(kind)];
  CHECK(row.kind == kind, "the list of kinds is out of order");
  return row;
}

}  // namespace understudy
