// Editing a panel at the window: parts are dragged on a grid of millimetres, keys filled in as a
// form, fields of lines added and moved, all as edits of the file's text (sim/panel/edit.h). What
// is not saved is drawn as a preview; the session goes on with the file's panel until it is saved
// and read again. A file is written only when the person saves.
//
// How the window uses it, all on its own thread and within a frame:
//   editor.begin_frame(view, files)            before anything is drawn
//   editor.on() / editor.turn(...)             the strip's "Edit" is on or off
//   editor.shown(seat)                         the SeatView to draw on the face
//   editor.draw_over_face(context, face)       after the face was drawn; takes the mouse while on
//   editor.draw_card(context)                  into the card "Edit"
//   editor.draw_questions(context)             once a frame: asks where edits would be lost
//   editor.may_close()                         the window is to be closed: false while it asks
#pragma once

#include <imgui.h>

#include <functional>
#include <memory>
#include <string>

#include "sim/window/areas.h"
#include "sim/window/panel_files.h"

namespace understudy {

// Where the face lies on the screen.
struct FaceOnScreen {
  ImVec2 corner;  // of the plate, upper left
  float px_per_mm = 3.0F;
  bool hovered = false;  // the mouse is over the face and nothing lies above it
};

class Editor {
 public:
  Editor();
  ~Editor();
  Editor(const Editor&) = delete;
  Editor& operator=(const Editor&) = delete;

  void begin_frame(const SessionView& view, std::size_t seat, PanelFiles& files);

  // Editing is on for the seat on the face; hands do not reach its controls meanwhile.
  [[nodiscard]] bool on() const;
  void turn(bool on);
  // Edits that are in no file, of any seat.
  [[nodiscard]] bool unsaved() const;

  // `live`, or while there are edits a seat made of them, at rest, with hands where they are.
  [[nodiscard]] const SeatView& shown(const SeatView& live, std::size_t seat);

  void draw_over_face(AreaContext& context, const FaceOnScreen& face);
  void draw_card(AreaContext& context);
  // Modal questions; true while one is open.
  bool draw_questions(AreaContext& context);

  // Ctrl+Z, Ctrl+Shift+Z (Ctrl+Y), Ctrl+S, Delete and arrows while on; call once a frame where no
  // text is being typed. True where a key was taken.
  bool take_keys(AreaContext& context);

  // Whether the window may close now. False: there are unsaved edits, and the question is open;
  // close_agreed() becomes true once the person has said so (saved or given up).
  bool may_close();
  [[nodiscard]] bool close_agreed() const;
  // Likewise for another file in the seat: `then` is called at once or once the person agrees.
  void before_open(std::size_t seat, std::function<void()> then);

  struct State;

 private:
  std::unique_ptr<State> state_;
};

}  // namespace understudy
