// Makes bytes readable and finds the word somebody probably meant.
#include "sim/base/text.h"

#include <algorithm>
#include <cstdint>
#include <vector>

namespace understudy {
namespace {

char lowered(char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c; }

// Levenshtein's distance over case-folded letters.
std::size_t edits_between(std::string_view a, std::string_view b) {
  std::vector<std::size_t> row(b.size() + 1);
  for (std::size_t j = 0; j <= b.size(); ++j) row[j] = j;
  for (std::size_t i = 1; i <= a.size(); ++i) {
    std::size_t diagonal = row[0];
    row[0] = i;
    for (std::size_t j = 1; j <= b.size(); ++j) {
      const std::size_t replaced = diagonal + (lowered(a[i - 1]) == lowered(b[j - 1]) ? 0 : 1);
      diagonal = row[j];
      row[j] = std::min({row[j] + 1, row[j - 1] + 1, replaced});
    }
  }
  return row[b.size()];
}

// How many bytes the UTF-8 sequence at the front takes; 0 where it is ill-formed.
std::size_t utf8_sequence_size(std::string_view bytes) {
  const auto at = [&](std::size_t i) { return static_cast<std::uint8_t>(bytes[i]); };
  const std::uint8_t lead = at(0);
  if (lead < 0x80) return 1;
  const std::size_t size = lead >= 0xf0 ? 4 : lead >= 0xe0 ? 3 : 2;
  if (lead < 0xc2 || lead > 0xf4 || bytes.size() < size) return 0;
  for (std::size_t i = 1; i < size; ++i)
    if ((at(i) & 0xc0) != 0x80) return 0;
  if (lead == 0xe0 && at(1) < 0xa0) return 0;  // overlong
  if (lead == 0xed && at(1) > 0x9f) return 0;  // surrogates
  if (lead == 0xf0 && at(1) < 0x90) return 0;  // overlong
  if (lead == 0xf4 && at(1) > 0x8f) return 0;  // beyond U+10FFFF
  return size;
}

}  // namespace

std::string printable(std::string_view bytes) {
  static constexpr char kHex[] = "0123456789abcdef";
  std::string text;
  for (const char c : bytes) {
    const auto byte = static_cast<std::uint8_t>(c);
    if (c == '\n') text += "\\n";
    else if (c == '\r') text += "\\r";
    else if (c == '\t') text += "\\t";
    else if (c == '\\') text += "\\\\";
    else if (byte >= 0x20 && byte < 0x7f) text += c;
    else text += {'\\', 'x', kHex[byte >> 4], kHex[byte & 15]};
  }
  return text;
}

std::string nearest_word(std::string_view word, std::span<const std::string> candidates) {
  std::string best;
  std::size_t best_edits = std::max<std::size_t>(2, word.size() / 3) + 1;
  for (const std::string& candidate : candidates) {
    const std::size_t edits = edits_between(word, candidate);
    if (edits < best_edits) {
      best_edits = edits;
      best = candidate;
    }
  }
  return best;
}

bool is_valid_utf8(std::string_view bytes) {
  while (!bytes.empty()) {
    const std::size_t size = utf8_sequence_size(bytes);
    if (size == 0) return false;
    bytes.remove_prefix(size);
  }
  return true;
}

}  // namespace understudy
