// Editing a panel at the window: parts are dragged on a grid of millimetres, keys filled in as a
// form, fields of lines added and moved, all as edits of the file's text (sim/panel/edit.h). What
// is not saved is drawn as a preview; the session goes on with the file's panel until it is saved
// and read again. A file is written only when the person saves.
//
// How the window uses it, all on its own thread and within a frame:
//   editor.begin_frame(view, seat, files)      before anything is drawn
//   editor.begin(files.report(seat)), end(), on()   the strip's "Edit"
//   editor.shown(live)                         the SeatView to draw on the face
//   editor.draw_over_face(context, frame)      after the face was drawn; takes the mouse while on
//   editor.draw_card(context)                  into the card "Edit"
//   editor.draw_lines(context)                 into the card "Lines of text"
//   editor.draw_questions(context)             once a frame: asks where edits would be lost
//   editor.may_close()                         the window is to be closed: false while it asks
#pragma once

#include <imgui.h>

#include <functional>
#include <memory>
#include <string>

#include "sim/window/areas.h"
#include "sim/window/face_geometry.h"
#include "sim/window/panel_files.h"

namespace understudy {

class Editor {
 public:
  Editor();
  ~Editor();
  Editor(const Editor&) = delete;
  Editor& operator=(const Editor&) = delete;

  void begin_frame(const SessionView& view, std::size_t seat, PanelFiles& files);

  // Editing is on; hands do not reach the controls of its seat meanwhile.
  [[nodiscard]] bool on() const;
  // Arrows move the chosen part instead of going from field to field.
  [[nodiscard]] bool takes_arrows() const;
  void begin(const FileReport& report);  // edits the file of the seat told to begin_frame()
  void end();                            // with unsaved edits the question is asked first
  [[nodiscard]] bool unsaved() const;    // edits that are in no file

  // `live`, or while there are edits a seat made of them, at rest.
  [[nodiscard]] const SeatView& shown(const SeatView& live);

  // Grid, frames and dragging, within the desk's window; an invisible button lies over the face.
  void draw_over_face(AreaContext& context, const FaceFrame& frame);
  void draw_card(AreaContext& context);
  void draw_lines(AreaContext& context);
  // Modal questions; true while one is open.
  bool draw_questions(AreaContext& context);
  // Ctrl+Z, Ctrl+Shift+Z, Ctrl+S, Delete and arrows while on and nothing is typed. True: taken.
  bool take_keys();

  // Whether the window may close now. False: there are unsaved edits, and the question is open;
  // close_agreed() becomes true once the person has said so (saved or given up).
  bool may_close();
  [[nodiscard]] bool close_agreed() const;
  // Likewise for another file in the seat: `then` is called at once or once the person agrees.
  void before_open(std::function<void()> then);

  struct State;

 private:
  std::unique_ptr<State> state_;
};

}  // namespace understudy
