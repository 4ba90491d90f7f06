// Words for messages: bytes made printable, the nearest known word, lists as sentences.
#pragma once

#include <span>
#include <string>
#include <string_view>

namespace understudy {

// Bytes as they may be shown: printable ASCII as it is, the rest as \n, \r, \t, \\ or \xHH.
std::string printable(std::string_view bytes);

// The candidate with the fewest single edits from `word` (case folded), or "" when none is near
// (more than a third of its length away, at least 2).
std::string nearest_word(std::string_view word, std::span<const std::string> candidates);

// True where every byte sequence is well-formed UTF-8 (RFC 3629).
bool is_valid_utf8(std::string_view bytes);

}  // namespace understudy
