// Where things are in the window, for programs that look at it from outside: tests that click, and
// whatever reads screens aloud. With UNDERSTUDY_WINDOW_PLACES=FILE in the environment the file
// holds them as JSON, {"buttons": {"Open...": [left, top, right, bottom], ...}, "parts": {...}}, in
// pixels of the display, and is replaced whenever they change. Without, nothing is kept.
#pragma once

#include <imgui.h>

#include <map>
#include <string>
#include <string_view>

namespace understudy {

// Thread: the window's. One is reached from ImGui's io.UserData, so that whoever draws can note.
class Places {
 public:
  explicit Places(std::string file);

  void begin(ImVec2 window_origin);  // of the frame: forgets what was noted
  void note(std::string_view kind, std::string_view name, ImVec2 least, ImVec2 most);
  void end();  // writes what changed; a file that cannot be written is let be

 private:
  using Boxes = std::map<std::string, ImVec4, std::less<>>;
  std::string file_;
  ImVec2 origin_;
  std::map<std::string, Boxes, std::less<>> noted_;
  std::string written_;
};

// Notes a rectangle of the frame in pixels of the window; does nothing where nobody wants it.
void note_place(std::string_view kind, std::string_view name, ImVec2 least, ImVec2 most);
// The same of the ImGui item that was drawn last. What stands behind "##" in its name is left out.
void note_item(std::string_view kind, std::string_view label);

}  // namespace understudy
