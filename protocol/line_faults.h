// What can be wrong with a line, as data. A fault is never an error of the program: noise is part
// of the trade. LineFormat::decode finds faults; LineFormat::write_sentence says one in words.
#pragma once

#include <cstdint>
#include <string_view>

namespace understudy::protocol {

enum class LineFaultKind : std::uint8_t {
  kNone,
  kEndsEarly,      // the line is over where more was expected: a torn line, a missing field
  kWrongText,      // the text between fields is another one
  kNotANumber,     // no digit where a number should begin
  kOutOfRange,     // a number, but below min or above max
  kLeadingZeros,   // 007 where 7 is written, or -0
  kWrongWidth,     // too few digits for a field of a fixed or least width
  kWrongDecimals,  // too few or too many digits after the point, or no point
  kUnknownWord,    // none of the field's words
  kGoesOn,         // all fields are there, and then there is more
  kWrongCheck,     // the check's digits are not those that the text gives
  kNoRoom,         // the caller's array of values is shorter than the catalogue
};

// Why it may be so: a guess that is right often enough to be told.
enum class LineHint : std::uint8_t {
  kNone,
  kDecimalsWithComma,   // twice as many numbers as fields: 0,5,0,25 for 0.5,0.25
  kDecimalsUnexpected,  // 0.53 where a whole number is expected
  kCommaForPoint,       // 0,53 where 0.53 is expected
  kCarriageReturn,      // a \r is left before the end: accept "\r\n"
  kSpaces,              // spaces or tabs where none belong
  kLetterCase,          // right word, other case
  kPlusSign,            // +5 for 5
  kNotText,             // bytes that are no text: wrong baud or a boot loader's talk
  kAnotherSeparator,    // `;` or a tab where `,` is expected, and the like
  kRunTogether,         // two lines without the end between them
  kTrailingSeparator,   // a separator after the last field
};

inline constexpr std::int32_t kNoField = -1;

// One fault at one place. Holds no pointers: whoever explains it hands in the line again.
struct LineFault {
  LineFaultKind kind = LineFaultKind::kNone;
  LineHint hint = LineHint::kNone;
  // Place in the template, from 0, counting fields, bit masks and built-ins.
  std::uint16_t place = 0;
  // Index in the catalogue of the field concerned, or kNoField (text, check, bit mask, built-in).
  std::int32_t field = kNoField;
  // 1-based byte column where it went wrong; one past the end where the line ends early.
  std::uint32_t column = 0;
  // How many bytes from `column` on are the thing that was found; 0 = the line's end.
  std::uint32_t found_bytes = 0;
  // WrongCheck: what the text gives.
  std::uint32_t detail = 0;

  bool operator==(const LineFault&) const = default;
};

// The kind in a few words, for counters and tables: "number out of range". Static text.
std::string_view describe(LineFaultKind kind);
// The guess in a few words, to stand after a semicolon; empty for None. Static text.
std::string_view describe(LineHint hint);

}  // namespace understudy::protocol
