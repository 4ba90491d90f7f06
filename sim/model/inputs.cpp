// The order of classes at one instant.
#include "sim/model/inputs.h"

namespace understudy {

InputClass class_of(const Input& input) {
  if (std::holds_alternative<HandAction>(input.what)) return InputClass::kHandsAndFaults;
  if (std::holds_alternative<BytesFromGame>(input.what)) return InputClass::kBytesFromGame;
  return InputClass::kLinkAndPower;
}

}  // namespace understudy
