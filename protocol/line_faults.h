// What can be wrong with a line, as data. A fault is never an error of the program: noise is part
// of the trade. LineFormat::decode finds faults; LineFormat::write_sentence says one in words.
#pragma once

#include <cstdint>
#include <string_view>

namespace understudy::protocol {

enum class LineFaultKind : std::uint8_t {
  None,
  EndsEarly,      // the line is over where more was expected: a torn line, a missing field
  WrongText,      // the text between fields is another one
  NotANumber,     // no digit where a number should begin
  OutOfRange,     // a number, but below min or above max
  LeadingZeros,   // 007 where 7 is written, or -0
  WrongWidth,     // too few digits for a field of a fixed or least width
  WrongDecimals,  // too few or too many digits after the point, or no point
  UnknownWord,    // none of the field's words
  GoesOn,         // all fields are there, and then there is more
  WrongCheck,     // the check's digits are not those that the text gives
  NoRoom,         // the caller's array of values is shorter than the catalogue
};

// Why it may be so: a guess that is right often enough to be told.
enum class LineHint : std::uint8_t {
  None,
  DecimalsWithComma,   // twice as many numbers as fields: 0,5,0,25 for 0.5,0.25
  DecimalsUnexpected,  // 0.53 where a whole number is expected
  CommaForPoint,       // 0,53 where 0.53 is expected
  CarriageReturn,      // a \r is left before the end: accept "\r\n"
  Spaces,              // spaces or tabs where none belong
  LetterCase,          // right word, other case
  PlusSign,            // +5 for 5
  NotText,             // bytes that are no text: wrong baud or a boot loader's talk
  AnotherSeparator,    // `;` or a tab where `,` is expected, and the like
  RunTogether,         // two lines without the end between them
  TrailingSeparator,   // a separator after the last field
};

inline constexpr std::int32_t kNoField = -1;

// One fault at one place. Holds no pointers: whoever explains it hands in the line again.
struct LineFault {
  LineFaultKind kind = LineFaultKind::None;
  LineHint hint = LineHint::None;
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
