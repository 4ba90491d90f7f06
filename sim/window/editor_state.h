// What the editor keeps; for editor.cpp (face, keys, questions), editor_card.cpp (the form) and
// editor_lines.cpp (the lines of text).
#pragma once

#include <functional>
#include <map>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "sim/panel/edit.h"
#include "sim/panel/edit_parts.h"
#include "sim/window/edit_session.h"
#include "sim/window/editor.h"
#include "sim/window/face_geometry.h"

namespace understudy {

// A [[line]] of the text.
struct EditedLine {
  bool to_game = true;
  std::string raw;                  // its text as it is written
  std::vector<std::string> fields;  // each with its braces
  std::size_t nth = 0;              // of its direction
};

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
  std::optional<FacePoint> dragged_to;   // snapped; the text has it when the hand lets go
  std::shared_ptr<const Panel> dragged;  // the preview with the part there
  FacePoint dragged_at;
  bool face_has_keys = false;
  ImVec2 grabbed;            // mm from the part's middle
  int grid_mm = 1;
  std::string told;                          // why the last edit was refused
  std::string told_at;                       // the field that it was
  std::map<std::string, std::string> typed;  // by field, while it is not what the text says
  std::string read_of;                       // the text that what follows was read from
  std::map<std::string, std::string> raw;    // by field, as it stands in the text
  std::vector<EditedLine> lines;
  bool asking = false;
  bool closing = false;
  bool agreed = false;
  std::function<void()> then;

  // What is drawn: the preview, with a part that is being dragged where the hand has it.
  [[nodiscard]] std::shared_ptr<const Panel> drawn();
  // As it stands in the text, "" where it is left out; kept until the text changes.
  const std::string& raw_at(const TableRef& table, std::string_view key);
  const std::vector<EditedLine>& line_rows();
  void read_anew();
  [[nodiscard]] FacePoint snapped(float x_mm, float y_mm) const;
  bool apply(const Result<std::string>& edited, const std::string& name,
             const std::string& field = "", bool goes_on = false);
  void save(bool over_changes = false);
  void step(bool back);
  [[nodiscard]] TableRef table_of(const PartId& part) const {
    return {part.output ? "output" : "control", part.index};
  }
  void move_selected(const FacePoint& to, bool goes_on);
  void drag(AreaContext& context, const FaceFrame& frame, const FaceGeometry& face);
  void remove_selected();
  void leave();
};

}  // namespace understudy
