// What a compiled template is made of: fixed text, then one place with a value, and again.
// For the files of this folder only; line_format.h has the doors that others use.
#pragma once

#include <cstdint>

#include "protocol/checks.h"

namespace understudy::protocol {

enum class ItemKind : std::uint8_t {
  kPlain,     // a whole number in decimal, as short as possible: the common case, made fast
  kNumber,    // any other number
  kWord,      // one of a list of words
  kBits,      // several fields of 0 and 1 in one number
  kSequence,  // built-in
  kUptime,    // built-in
  kEnd,       // nothing: only the fixed text after the last place
};

enum class Notation : std::uint8_t { kDecimal, kHexLower, kHexUpper };

// Fixed text literals_[text_at .. text_at + text_bytes), then a place of `kind`.
struct LineItem {
  ItemKind kind = ItemKind::kEnd;
  Notation notation = Notation::kDecimal;
  std::uint8_t width = 0;    // bytes, with sign and point; 0 = as short as possible
  bool width_exact = false;  // else `width` is the least
  std::uint8_t decimals = 0;
  bool short_decimals = false;  // zeros at the end of the decimals are left out
  char text_first = 0;          // the fixed text's first byte, the common single separator
  std::uint16_t field = 0;      // catalogue index (Plain, Number, Word)
  std::uint16_t count = 0;      // Word: words; Bits: fields
  std::uint32_t text_at = 0;
  std::uint32_t text_bytes = 0;
  std::uint32_t first = 0;  // Word: index into words_; Bits: index into bits_
  std::int64_t min = 0;     // of the number as written (without the point)
  std::int64_t max = 0;
  std::uint64_t span = 0;  // max - min
};

// The check after the last item: fixed text, digits, fixed text.
struct CheckItem {
  bool present = false;
  CheckKind kind = CheckKind::kXor;
  Notation notation = Notation::kHexUpper;
  std::uint8_t digits = 0;      // hexadecimal digits; 0 in decimal
  std::uint32_t before_at = 0;  // in literals_
  std::uint32_t before_bytes = 0;
  std::uint32_t after_at = 0;
  std::uint32_t after_bytes = 0;
  std::uint32_t begin_state = 0;  // of the check, with the start marker added where covered
};

}  // namespace understudy::protocol
