// Where everything is on a face, in millimetres from its upper left corner and in pixels of the
// window; what lies under a point, and where a hand would put it. No drawing.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "sim/model/panel_description.h"
#include "sim/paint/shapes.h"
#include "sim/window/layout.h"

namespace understudy {

// Which control or output of a panel.
struct PartId {
  bool output = false;
  std::uint16_t index = 0;
  friend bool operator==(const PartId&, const PartId&) = default;
};

// Where the name of a part, or of the panel, is written: one or two lines within `box`.
struct Legend {
  Extent box;
  std::vector<std::string> lines;  // empty: the part writes it itself
};

struct PlacedPart {
  PartId id;
  Point middle;
  Extent body;    // all that is painted of it
  Legend legend;  // overlaps no body and no other legend, if the panel leaves any room
};

struct FaceGeometry {
  float width = 0;
  float height = 0;
  std::vector<PlacedPart> parts;  // controls in their order, then outputs
  Legend title;                   // the panel's name
  float legend_mm = 0;            // how high the letters of all legends are, as asked for
};

// Letters of legends are so high, from the top of a capital to the lowest descender.
inline constexpr float kLegendMm = 5.0F;

// `legend_mm`: larger letters, for a face drawn so small that one could not read them.
FaceGeometry geometry_of(const PanelDescription& panel, float legend_mm = kLegendMm);
// How high letters are to be at a scale: as engraved, but never under what one can read, unless
// that is out of all proportion. Pixels of a display of usual density.
float legend_mm_at(float pixels_per_mm);

// "signal_red" -> "Signal red".
std::string legend_text(std::string_view name);

// A face drawn into a rectangle of the window.
struct FaceFrame {
  Box box;
  float pixels_per_mm = 1;
  [[nodiscard]] Point mm(ImVec2 pixel) const {
    return {(pixel.x - box.left) / pixels_per_mm, (pixel.y - box.top) / pixels_per_mm};
  }
  [[nodiscard]] ImVec2 pixel(const Point& mm) const {
    return {box.left + mm.x * pixels_per_mm, box.top + mm.y * pixels_per_mm};
  }
};
// The largest of the face's proportion within `box`.
FaceFrame frame_in(const Box& box, const FaceGeometry& face);

// What lies under a point; a little beside a small part still counts, the nearest then.
struct FaceHit {
  PartId part;
  Point from_middle;  // mm
};
std::optional<FaceHit> hit(const FaceGeometry& face, const Point& mm);

// ---- what hands need to know of each kind, all from the middle of the part ----

// Where the handle, knob or ball stands: of a slide on its track, of a stick where its ball leans,
// of what turns the end of its pointer. `x_ppm` is the control's position; `y_ppm` a stick's other.
Point handle_at(const ControlDescription& control, std::int32_t x_ppm, std::int32_t y_ppm = 0);
// The position for a handle dragged to a point, held to the travel: a slide's by height, a
// turner's by angle, a stick's x (y with `part` 1) by where its ball is. A selector's is not
// rounded to a place. Of contacts and sensors: 0.
std::int32_t ppm_at(const ControlDescription& control, std::size_t part, const Point& from_middle);
// How far a handle moves over its whole travel, mm along its way.
float travel_mm(const ControlDescription& control);
// The angle of a pointer, degrees clockwise from straight up: of pots, selectors and encoders.
float pointer_deg(const ControlDescription& control, std::int32_t ppm);
// Whether a point lies on the top of a stick's ball, which one presses, rather than leans.
bool on_ball(const ControlDescription& control, const Point& from_middle, std::int32_t x_ppm,
             std::int32_t y_ppm);

inline constexpr float kBallRadiusMm = 8.0F;   // of a stick
inline constexpr float kLeanMm = 8.0F;         // how far the ball goes to either side
inline constexpr float kSelectorStepDeg = 30;  // at most, from place to place

}  // namespace understudy
