// What SDL tells of keys, fingers and game controllers, as what hands do at the face. The mouse
// comes by way of ImGui, which knows what lies above the face.
#pragma once

#include <SDL.h>

#include <optional>
#include <string>
#include <vector>

#include "sim/window/hands.h"

namespace understudy {

// Thread: the window's. Game controllers are heard while another window has the keyboard, too.
class HandEvents {
 public:
  HandEvents();
  ~HandEvents();
  HandEvents(const HandEvents&) = delete;
  HandEvents& operator=(const HandEvents&) = delete;

  struct Around {
    const FaceFrame& face;
    ImVec2 window;          // pixels
    bool typing = false;    // a text field has the keyboard
    bool face_keys = true;  // the face may take keys: no editor is on
    bool menu = false;      // a card or menu is open, and has the keys of the focus
  };
  // Looks at every event.
  void take(const SDL_Event& event, Hands& hands, const Around& around);

 private:
  void take_key(const SDL_KeyboardEvent& key, Hands& hands, const Around& around);
  void take_finger(const SDL_TouchFingerEvent& finger, Hands& hands, const Around& around);
  void open_pad(int index);

  bool listens_ = false;
  std::vector<SDL_GameController*> pads_;
  std::optional<SDL_FingerID> mouse_finger_;  // SDL tells of it as the mouse, too
};

// "left y", "right trigger", "left stick", "a": how panel files call axes and buttons.
std::string name_of_axis(SDL_GameControllerAxis axis);
std::string name_of_button(SDL_GameControllerButton button);

// What is printed on a key in the user's layout, for the name of its place.
std::string printed_on(const std::string& key);

}  // namespace understudy
