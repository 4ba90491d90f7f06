// The words for faults and hints.
#include "protocol/line_faults.h"

namespace understudy::protocol {

std::string_view describe(LineFaultKind kind) {
  switch (kind) {
    case LineFaultKind::kNone:
      return "nothing wrong";
    case LineFaultKind::kEndsEarly:
      return "line ends early";
    case LineFaultKind::kWrongText:
      return "other text between fields";
    case LineFaultKind::kNotANumber:
      return "not a number";
    case LineFaultKind::kOutOfRange:
      return "number out of range";
    case LineFaultKind::kLeadingZeros:
      return "zeros before the number";
    case LineFaultKind::kWrongWidth:
      return "too few digits";
    case LineFaultKind::kWrongDecimals:
      return "other decimals";
    case LineFaultKind::kUnknownWord:
      return "unknown word";
    case LineFaultKind::kGoesOn:
      return "more after the last field";
    case LineFaultKind::kWrongCheck:
      return "check does not fit the text";
    case LineFaultKind::kNoRoom:
      return "no room for the values";
  }
  return "";
}

std::string_view describe(LineHint hint) {
  switch (hint) {
    case LineHint::kNone:
      return "";
    case LineHint::kDecimalsWithComma:
      return "looks like decimals written with a comma";
    case LineHint::kDecimalsUnexpected:
      return "looks like decimals where whole numbers belong";
    case LineHint::kCommaForPoint:
      return "looks like decimals written with a comma";
    case LineHint::kCarriageReturn:
      return "a carriage return is left: accept \"\\r\\n\" too";
    case LineHint::kSpaces:
      return "spaces do not belong here";
    case LineHint::kLetterCase:
      return "the right word in other letters, capital or small";
    case LineHint::kPlusSign:
      return "numbers are written without a plus sign";
    case LineHint::kNotText:
      return "these bytes are no text: is the baud rate right?";
    case LineHint::kAnotherSeparator:
      return "looks like another separator";
    case LineHint::kRunTogether:
      return "looks like two lines without the end between them";
    case LineHint::kTrailingSeparator:
      return "a separator stands after the last field";
  }
  return "";
}

}  // namespace understudy::protocol
