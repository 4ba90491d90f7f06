// The order of classes at one instant; when two reloads are the same.
#include "sim/model/inputs.h"

#include "sim/model/panel.h"

namespace understudy {

bool operator==(const PanelReloaded& a, const PanelReloaded& b) {
  return a.panel == b.panel ||
         (a.panel->text == b.panel->text && a.panel->description == b.panel->description);
}

InputClass class_of(const Input& input) {
  if (std::holds_alternative<PanelReloaded>(input.what)) return InputClass::kReload;
  if (std::holds_alternative<HandAction>(input.what)) return InputClass::kHandsAndFaults;
  if (std::holds_alternative<ControlHeld>(input.what)) return InputClass::kHandsAndFaults;
  if (std::holds_alternative<BytesFromGame>(input.what)) return InputClass::kBytesFromGame;
  if (std::holds_alternative<BoxBytes>(input.what)) return InputClass::kBytesFromBox;
  return InputClass::kLinkAndPower;
}

}  // namespace understudy
