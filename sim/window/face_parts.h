// How each kind of control and output looks: one file face_KIND.cpp and one line in face_parts.cpp
// for each. What never moves is painted onto the plate once for a size, by sim/paint; what moves is
// painted as sprites once for a size, and put together each frame. Where parts are, and what hands
// may take, stands in face_geometry.h; the plate itself in face.h.
#pragma once

#include <string>
#include <vector>

#include "sim/paint/canvas.h"
#include "sim/window/face_geometry.h"
#include "sim/window/session_view.h"
#include "sim/window/style.h"

namespace understudy {

class FlashWatch;

// One part on a face. Either `control` or `output` is there.
struct FacePart {
  PartId id;
  const ControlDescription* control = nullptr;
  const OutputDescription* output = nullptr;
  Point middle;  // mm on the plate
  Extent body;   // mm on the plate: what may be painted on
  Legend legend;
};

// What is to be seen of hands and faults on a part.
struct PartMarks {
  bool hovered = false;
  bool focused = false;  // by the keyboard
  bool grabbed = false;  // a hand has it
  bool pressed = false;
  bool wedged = false;
  bool faulty = false;
};

// What a part shows at this moment.
struct PartState {
  const SeatView& seat;
  PartMarks marks;
  double seconds = 0;                // of the window's own clock, for what settles
  const FlashWatch* calm = nullptr;  // lamps are shown as they are on average; null: as they are

  // 0 to 1 of the travel, or turns of what turns.
  [[nodiscard]] float position(const FacePart& part, std::size_t hand_part = 0) const;
  // The wire number of a part of it (line_parts() in sim/model/kinds.h); 0 where no line has it.
  [[nodiscard]] std::int64_t number(const FacePart& part, std::size_t line_part = 0) const;
  // The same as 0 to 1 of the range that the panel gives for it.
  [[nodiscard]] float share(const FacePart& part, std::size_t line_part = 0) const;
  // Of a gauge, in thousandths of a degree from the least.
  [[nodiscard]] std::int64_t needle_mdeg(const FacePart& part) const;
};

// A picture of something that moves; `extent` is what it shows, in mm, around a (0, 0) at which it
// is put down and about which it turns.
struct Sprite {
  Bitmap bitmap;
  Extent extent;
};
Sprite sprite_of(const Canvas& canvas);

struct KeptSprite {
  ImTextureID texture = nullptr;
  Extent extent;
};

// Draws over the plate, in mm of the plate.
class FaceDrawing {
 public:
  FaceDrawing(ImDrawList& list, const FaceFrame& frame, const Typefaces& type)
      : list_(list), frame_(frame), type_(type) {}

  [[nodiscard]] ImDrawList& list() { return list_; }
  [[nodiscard]] float scale() const { return frame_.pixels_per_mm; }
  [[nodiscard]] ImVec2 px(const Point& mm) const { return frame_.pixel(mm); }
  [[nodiscard]] float px(float mm) const { return mm * frame_.pixels_per_mm; }

  // The n-th sprite of the part that is drawn, put down at `at`, turned clockwise. `tint` is
  // multiplied with it. Upright ones lie on whole pixels where `snapped`.
  void sprite(std::size_t n, const Point& at, float degrees = 0, ImU32 tint = IM_COL32_WHITE);
  // Stretched: `grow` makes it larger in both directions about (0, 0).
  void sprite_grown(std::size_t n, const Point& at, float grow, ImU32 tint);

  // So high that one can still read it at this scale, if it may be that high.
  [[nodiscard]] float readable(float mm, float most_mm) const;

  // Text with its middle at `middle`, capitals to descenders `height` mm high, made narrower and
  // smaller where it is wider than `width` mm.
  void text(const Point& middle, float height, std::string_view text, ImU32 colour, float width);
  // Cut into the plate and filled with cream: dark edge above, light edge below.
  void engraved(const Point& middle, float height, std::string_view text, float width);

  void use(const std::vector<KeptSprite>& sprites) { sprites_ = &sprites; }

 private:
  ImDrawList& list_;
  FaceFrame frame_;
  const Typefaces& type_;
  const std::vector<KeptSprite>* sprites_ = nullptr;
};

struct PartLook {
  // All of it that never moves, onto the plate. Null: nothing.
  void (*paint_base)(Canvas& canvas, const FacePart& part) = nullptr;
  // What moves, at a scale; parts with the same key share them. Null: none.
  std::vector<Sprite> (*paint_sprites)(const FacePart& part, float pixels_per_mm) = nullptr;
  // Null: all of a kind look alike.
  std::string (*sprite_key)(const FacePart& part) = nullptr;
  // Each frame.
  void (*draw)(FaceDrawing& drawing, const FacePart& part, const PartState& state) = nullptr;
  // Its name stands on it, and it draws it (gauges), instead of on the plate below.
  bool writes_legend = false;
  // What lights up from within: drawn after all parts, over the neighbours too. Null: nothing.
  void (*draw_light)(FaceDrawing& drawing, const FacePart& part, const PartState& state) = nullptr;
};

const PartLook& look_of(ControlKind kind);
const PartLook& look_of(OutputKind kind);

// The rows, each in its face_KIND.cpp.
PartLook pot_look();
PartLook button_look();
PartLook switch_look();
PartLook selector_look();
PartLook stick_look();
PartLook encoder_look();
PartLook sensor_look();
PartLook lamp_look();
PartLook rgb_look();
PartLook gauge_look();
PartLook buzzer_look();
PartLook digits_look();

// ---- shared by the files of the kinds ----

namespace paints {
inline constexpr std::uint32_t kCream = 0xEFE3C2;     // legends and scales
inline constexpr std::uint32_t kBakelite = 0x2C1A12;  // knobs, nearly black brown
inline constexpr std::uint32_t kRubber = 0x1B1B1C;
inline constexpr std::uint32_t kNickel = 0xB9B6AE;
inline constexpr std::uint32_t kBrass = 0xB08D45;
inline constexpr std::uint32_t kIvory = 0xE9DDBE;
inline constexpr std::uint32_t kRed = 0xA3231A;
inline constexpr std::uint32_t kInk = 0x26221C;
inline constexpr std::uint32_t kDial = 0xF3EBD3;  // cream card of dials
}  // namespace paints

inline constexpr ImU32 kCreamInk = IM_COL32(0xEF, 0xE3, 0xC2, 0xFF);

// A slotted screw in its dimple, the slot turned by `degrees`.
void paint_screw(Canvas& canvas, const Point& middle, float radius, float degrees);
// A hexagonal nickel nut on a washer, with a hole of `bore` radius.
void paint_nut(Canvas& canvas, const Point& middle, float across, float bore);
// A flat nickel ring around a round hole.
void paint_bezel(Canvas& canvas, const Point& middle, float radius, float width);
// A scale mark from one radius to another at an angle from straight up, engraved in cream.
void paint_mark(Canvas& canvas, const Point& middle, float from, float to, float degrees,
                float width);

}  // namespace understudy
