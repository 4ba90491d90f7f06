// The face of a panel as a person would build it: the plate with all that never moves is painted
// once for a size and kept, what moves is put on it each frame. What hands do to it is decided
// elsewhere and comes in as marks.
#pragma once

#include <map>
#include <memory>
#include <string>
#include <vector>

#include "sim/window/face_geometry.h"
#include "sim/window/face_parts.h"
#include "sim/window/textures.h"

namespace understudy {

// Marks of every part: controls in their order, then outputs. Missing ones have none.
using FaceMarks = std::vector<PartMarks>;

class Face {
 public:
  // `textures` stays the caller's and outlives this.
  explicit Face(Textures& textures);
  ~Face();
  Face(const Face&) = delete;
  Face& operator=(const Face&) = delete;

  // The largest that fits into `box`. While the size changes from frame to frame the old picture is
  // stretched; it is painted anew when the size rests. With `calm` lamps show what they give on
  // average.
  void draw(ImDrawList& list, const Box& box, const Typefaces& type, const SeatView& seat,
            const FaceMarks& marks, double seconds, const FlashWatch* calm = nullptr);

  // As drawn last.
  [[nodiscard]] const FaceGeometry& geometry() const;
  [[nodiscard]] const FaceFrame& frame() const;
  // Height of letters that typefaces are to be baked for, whole pixels.
  [[nodiscard]] float engraved_px() const;
  // A better picture comes soon: draw again.
  [[nodiscard]] bool moving() const;

 private:
  struct State;
  std::unique_ptr<State> state_;
};

// The plate of a panel with all that never moves; `margin` mm around it hold its shadow.
Bitmap painted_plate(const PanelDescription& panel, const FaceGeometry& face, float pixels_per_mm,
                     float margin);

}  // namespace understudy
