// What the editor keeps; for editor.cpp (face, keys, questions) and editor_card.cpp (the form).
#pragma once

#include <functional>
#include <map>
#include <memory>
#include <optional>
#include <string>

#include "sim/panel/edit.h"
#include "sim/window/edit_session.h"
#include "sim/window/editor.h"
#include "sim/window/face_geometry.h"

namespace understudy {

struct Editor::State {
  std::unique_ptr<EditSession> session;  // while on
  std::size_t seat = 0;
  std::uint64_t readings = 0;  // of the file, as last told to the session
  std::optional<PartId> selected;
  std::optional<SeatView> preview;  // of session->preview()
  std::shared_ptr<const Panel> preview_of;
  Instant preview_at;
  const Panel* live = nullptr;        // as last shown() was told; only compared
  const Panel* saved_over = nullptr;  // was played when it was saved
  double saved_at = 0;
  bool dragging = false;
  ImVec2 grabbed;  // mm from the part's middle
  int grid_mm = 1;
  std::string told;                          // why the last edit was refused
  std::string told_at;                       // the field that it was
  std::map<std::string, std::string> typed;  // by field, while it is not what the text says
  std::string new_name;
  bool asking = false;
  bool closing = false;
  bool agreed = false;
  std::function<void()> then;

  bool apply(const Result<std::string>& edited, const std::string& name,
             const std::string& field = "", bool goes_on = false);
  void save(bool over_changes = false);
  void step(bool back);
  [[nodiscard]] TableRef table_of(const PartId& part) const {
    return {part.output ? "output" : "control", part.index};
  }
  void move_selected(float x_mm, float y_mm);
  void remove_selected();
  void leave();
};

}  // namespace understudy
