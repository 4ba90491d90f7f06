// The words for faults and hints.
#include "protocol/line_faults.h"

namespace understudy::protocol {

std::string_view describe(LineFaultKind kind) {
  switch (kind) {
    case LineFaultKind::None:
      return "nothing wrong";
    case LineFaultKind::EndsEarly:
      return "line ends early";
    case LineFaultKind::WrongText:
      return "other text between fields";
    case LineFaultKind::NotANumber:
      return "not a number";
    case LineFaultKind::OutOfRange:
      return "number out of range";
    case LineFaultKind::LeadingZeros:
      return "zeros before the number";
    case LineFaultKind::WrongWidth:
      return "too few digits";
    case LineFaultKind::WrongDecimals:
      return "other decimals";
    case LineFaultKind::UnknownWord:
      return "unknown word";
    case LineFaultKind::GoesOn:
      return "more after the last field";
    case LineFaultKind::WrongCheck:
      return "check does not fit the text";
    case LineFaultKind::NoRoom:
      return "no room for the values";
  }
  return "";
}

std::string_view describe(LineHint hint) {
  switch (hint) {
    case LineHint::None:
      return "";
    case LineHint::DecimalsWithComma:
      return "looks like decimals written with a comma";
    case LineHint::DecimalsUnexpected:
      return "looks like decimals where whole numbers belong";
    case LineHint::CommaForPoint:
      return "looks like decimals written with a comma";
    case LineHint::CarriageReturn:
      return "a carriage return is left: accept \"\\r\\n\" too";
    case LineHint::Spaces:
      return "spaces do not belong here";
    case LineHint::LetterCase:
      return "the right word in other letters, capital or small";
    case LineHint::PlusSign:
      return "numbers are written without a plus sign";
    case LineHint::NotText:
      return "these bytes are no text: is the baud rate right?";
    case LineHint::AnotherSeparator:
      return "looks like another separator";
    case LineHint::RunTogether:
      return "looks like two lines without the end between them";
    case LineHint::TrailingSeparator:
      return "a separator stands after the last field";
  }
  return "";
}

}  // namespace understudy::protocol
