// All that the window shows in one frame: strip, face, areas. Knows neither SDL's window nor a
// clock; run_window and `--picture` both draw by it.
#pragma once

#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "sim/window/areas.h"
#include "sim/window/hands.h"
#include "sim/window/layout.h"
#include "sim/window/textures.h"
#include "sim/window/top_strip.h"

namespace understudy {

// How the desk is set up; the window and the desk both change it.
struct DeskState {
  bool compact = false;
  bool on_top = false;
  bool leave = false;  // the person wants to close the window
};

class Desk {
 public:
  // Both stay the caller's and outlive this. `wake`: makes the loop turn; called on any thread.
  // Empty: nothing but drawing, no file is watched.
  Desk(Textures& textures, Remembered& remembered, std::function<void()> wake = {});
  ~Desk();
  Desk(const Desk&) = delete;
  Desk& operator=(const Desk&) = delete;

  // What passed since the last call; often, also while nothing is drawn.
  void take(std::shared_ptr<const SessionView> view, FeedPortion portion);
  // Once in every turn of the loop, also while nothing is drawn: hands and repeated gestures go on.
  // `seconds` on any clock that never goes back. True where there is something new to draw.
  bool turn(double seconds);
  // A file was dropped on the window.
  void drop_file(const std::string& path);

  struct Frame {
    ImVec2 size;  // of the window, pixels
    float unit = 1.0F;
    const Typefaces& type;
  };
  // Between ImGui's NewFrame and Render. Before the first view there is only paper.
  void draw(const Frame& frame, DeskState& state);

  // What the person wanted in the frames since the last call.
  [[nodiscard]] std::vector<Wish> take_wishes();
  // Who moves the controls of the face that is shown, and where that lies.
  [[nodiscard]] Hands& hands();
  [[nodiscard]] const FaceFrame& face_frame() const;
  // The panel is edited: the face's keys are the editor's.
  [[nodiscard]] bool editing() const;
  // Arrows, Space and Enter are for what is chosen on the face, and nobody else's.
  [[nodiscard]] bool face_has_keys() const;
  // A card, menu or question lies over the desk.
  [[nodiscard]] bool menu_is_open() const;
  // Whether the window may close now; else it asks, and sets DeskState::leave once it may.
  bool may_close();
  // Something drawn last has not come to rest.
  [[nodiscard]] bool moving() const;
  // Height of letters that the face was drawn for last; typefaces are to be baked for it.
  [[nodiscard]] float engraved_px() const;
  // A place of the compact face where nothing can be grabbed: the window is moved there.
  [[nodiscard]] bool is_bare(ImVec2 at) const;
  // Width over height of the face that is shown.
  [[nodiscard]] float face_ratio() const;

 private:
  struct State;
  std::unique_ptr<State> state_;
};

}  // namespace understudy
