// Names of SDL's own, and which finger is the mouse.
#include "sim/window/hand_events.h"

#include <algorithm>

namespace understudy {

HandEvents::HandEvents() {
  SDL_SetHint(SDL_HINT_JOYSTICK_ALLOW_BACKGROUND_EVENTS, "1");
  listens_ = SDL_InitSubSystem(SDL_INIT_GAMECONTROLLER) == 0;  // without, all else goes on
}

HandEvents::~HandEvents() {
  for (SDL_GameController* pad : pads_) SDL_GameControllerClose(pad);
  if (listens_) SDL_QuitSubSystem(SDL_INIT_GAMECONTROLLER);
}

void HandEvents::open_pad(int index) {
  if (SDL_GameControllerFromInstanceID(SDL_JoystickGetDeviceInstanceID(index)) != nullptr) return;
  if (SDL_GameController* pad = SDL_GameControllerOpen(index)) pads_.push_back(pad);
}

void HandEvents::take(const SDL_Event& event, Hands& hands, const Around& around) {
  switch (event.type) {
    case SDL_KEYDOWN:
    case SDL_KEYUP:
      take_key(event.key, hands, around);
      break;
    case SDL_FINGERDOWN:
    case SDL_FINGERMOTION:
    case SDL_FINGERUP:
      take_finger(event.tfinger, hands, around);
      break;
    case SDL_WINDOWEVENT:
      if (event.window.event == SDL_WINDOWEVENT_FOCUS_LOST) hands.let_go_keys();
      break;
    case SDL_CONTROLLERDEVICEADDED:
      open_pad(event.cdevice.which);
      break;
    case SDL_CONTROLLERDEVICEREMOVED:
      if (SDL_GameController* pad = SDL_GameControllerFromInstanceID(event.cdevice.which)) {
        std::erase(pads_, pad);
        SDL_GameControllerClose(pad);
        hands.pad_gone(event.cdevice.which);
      }
      break;
    case SDL_CONTROLLERAXISMOTION: {
      const float value = std::max(-1.0F, static_cast<float>(event.caxis.value) / 32'767.0F);
      hands.pad(event.caxis.which,
                name_of_axis(static_cast<SDL_GameControllerAxis>(event.caxis.axis)), value);
      break;
    }
    case SDL_CONTROLLERBUTTONDOWN:
    case SDL_CONTROLLERBUTTONUP:
      hands.pad(event.cbutton.which,
                name_of_button(static_cast<SDL_GameControllerButton>(event.cbutton.button)),
                event.type == SDL_CONTROLLERBUTTONDOWN ? 1.0F : 0.0F);
      break;
    default:
      break;
  }
}

void HandEvents::take_key(const SDL_KeyboardEvent& key, Hands& hands, const Around& around) {
  const bool down = key.type == SDL_KEYDOWN;
  if (down && (around.typing || !around.face_keys)) return;
  if (key.repeat != 0) return;
  const Modifiers modifiers = {.fine = (key.keysym.mod & KMOD_SHIFT) != 0,
                               .wedge = (key.keysym.mod & KMOD_CTRL) != 0,
                               .elsewhere = around.menu};
  if (key.keysym.scancode == SDL_SCANCODE_TAB && down && !modifiers.wedge && !around.menu) {
    hands.step_focus(modifiers.fine);
    return;
  }
  hands.key(SDL_GetScancodeName(key.keysym.scancode), down, modifiers);
}

// The finger that is put down while no other is the mouse is the mouse until it is lifted, as SDL
// has it: what it does comes by way of the mouse, and is not counted here.
void HandEvents::take_finger(const SDL_TouchFingerEvent& finger, Hands& hands,
                             const Around& around) {
  const bool down = finger.type == SDL_FINGERDOWN;
  if (down && !mouse_finger_) mouse_finger_ = finger.fingerId;
  if (mouse_finger_ == finger.fingerId) {
    if (finger.type == SDL_FINGERUP) mouse_finger_.reset();
    return;
  }
  const Point at = around.face.mm({finger.x * around.window.x, finger.y * around.window.y});
  if (down && around.face_keys) hands.press(finger.fingerId, at, {});
  if (finger.type == SDL_FINGERMOTION) hands.move(finger.fingerId, at, {});
  if (finger.type == SDL_FINGERUP) hands.release(finger.fingerId);
}

std::string name_of_axis(SDL_GameControllerAxis axis) {
  switch (axis) {
    case SDL_CONTROLLER_AXIS_LEFTX:
      return "left x";
    case SDL_CONTROLLER_AXIS_LEFTY:
      return "left y";
    case SDL_CONTROLLER_AXIS_RIGHTX:
      return "right x";
    case SDL_CONTROLLER_AXIS_RIGHTY:
      return "right y";
    case SDL_CONTROLLER_AXIS_TRIGGERLEFT:
      return "left trigger";
    case SDL_CONTROLLER_AXIS_TRIGGERRIGHT:
      return "right trigger";
    default:
      return "";
  }
}

std::string name_of_button(SDL_GameControllerButton button) {
  switch (button) {
    case SDL_CONTROLLER_BUTTON_LEFTSHOULDER:
      return "left shoulder";
    case SDL_CONTROLLER_BUTTON_RIGHTSHOULDER:
      return "right shoulder";
    case SDL_CONTROLLER_BUTTON_LEFTSTICK:
      return "left stick";
    case SDL_CONTROLLER_BUTTON_RIGHTSTICK:
      return "right stick";
    case SDL_CONTROLLER_BUTTON_DPAD_UP:
      return "up";
    case SDL_CONTROLLER_BUTTON_DPAD_DOWN:
      return "down";
    case SDL_CONTROLLER_BUTTON_DPAD_LEFT:
      return "left";
    case SDL_CONTROLLER_BUTTON_DPAD_RIGHT:
      return "right";
    default:
      break;
  }
  const char* name = SDL_GameControllerGetStringForButton(button);
  return name != nullptr ? name : "";
}

std::string printed_on(const std::string& key) {
  const SDL_Scancode place = SDL_GetScancodeFromName(key.c_str());
  if (place == SDL_SCANCODE_UNKNOWN) return key;
  const char* name = SDL_GetKeyName(SDL_GetKeyFromScancode(place));
  return name != nullptr && name[0] != '\0' ? name : key;
}

}  // namespace understudy
