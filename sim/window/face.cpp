// Plate, parts and legends, and what is drawn on top of them for hands and faults.
#include "sim/window/face.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <optional>
#include <set>
#include <utility>

#include "sim/model/kinds.h"
#include "sim/paint/enamel.h"
#include "sim/window/face_marks.h"

namespace understudy {
namespace {

constexpr float kMarginMm = 7;
constexpr double kRestSeconds = 0.15;
constexpr float kCornerMm = 4.5F;

const PartLook& look_of(const FacePart& part) {
  return part.id.output ? look_of(part.output->kind) : look_of(part.control->kind);
}

std::vector<FacePart> parts_of(const PanelDescription& panel, const FaceGeometry& face) {
  std::vector<FacePart> parts;
  for (const PlacedPart& placed : face.parts) {
    FacePart part;
    part.id = placed.id;
    part.middle = placed.middle;
    part.body = placed.body;
    part.legend = placed.legend;
    if (part.id.output) {
      part.output = &panel.outputs[part.id.index];
    } else {
      part.control = &panel.controls[part.id.index];
    }
    parts.push_back(part);
  }
  return parts;
}

std::string key_of(const FacePart& part) {
  const PartLook& look = look_of(part);
  const std::string_view word =
      part.id.output ? kind_word(part.output->kind) : kind_word(part.control->kind);
  return std::string(word) + (look.sprite_key != nullptr ? "/" + look.sprite_key(part) : "");
}

// The edge of the sheet: rounded over, brighter towards the light.
void paint_sheet(Canvas& canvas, const FaceGeometry& face) {
  const Shape plate = rounded({0, 0, face.width, face.height}, kCornerMm);
  canvas.shadow(plate, {.height = 6, .strength = 0.42F, .contact = 0.45F});
  const Tone clouds = clouded(70, 0.05F, 3);
  const Tone fall = [&face, clouds](const Point& at) {
    return clouds(at) * (1.09F - 0.08F * at.x / face.width - 0.1F * at.y / face.height);
  };
  canvas.cover(plate, enamel_tile({}, canvas.pixels_per_mm()), fall);
  const float width = std::max(1.3F, 2.2F * canvas.pixel());
  canvas.fill(common(outline(plate, 2 * width), plate),
              {.colour = light_of(0x4C7059),
               .opacity = 0.9F,
               .shine = 0.45F,
               .roughness = 0.45F,
               .height = [plate, width](const Point& at, float) {
                 const float share = 1 - std::clamp(-plate.distance(at) / width, 0.0F, 1.0F);
                 return width * 0.8F * std::sqrt(std::max(0.0F, 1 - share * share));
               }});
}

void paint_corner_screws(Canvas& canvas, const FaceGeometry& face) {
  constexpr float kIn = 6.0F;
  const Point corners[] = {{kIn, kIn},
                           {face.width - kIn, kIn},
                           {face.width - kIn, face.height - kIn},
                           {kIn, face.height - kIn}};
  constexpr float kTurns[] = {32, 118, 74, 155};  // nobody lines them up
  for (std::size_t i = 0; i < 4; ++i) paint_screw(canvas, corners[i], 2.3F, kTurns[i]);
}

// The plate without any part.
Canvas bare_plate(const FaceGeometry& face, float pixels_per_mm, float margin) {
  Canvas canvas({-margin, -margin, face.width + margin, face.height + margin}, pixels_per_mm);
  paint_sheet(canvas, face);
  paint_corner_screws(canvas, face);
  return canvas;
}

Bitmap with_parts(Canvas canvas, const PanelDescription& panel, const FaceGeometry& face) {
  for (const FacePart& part : parts_of(panel, face)) {
    if (look_of(part).paint_base != nullptr) look_of(part).paint_base(canvas, part);
  }
  return canvas.bitmap();
}

}  // namespace

Bitmap painted_plate(const PanelDescription& panel, const FaceGeometry& face, float pixels_per_mm,
                     float margin) {
  return with_parts(bare_plate(face, pixels_per_mm, margin), panel, face);
}

struct Face::State {
  explicit State(Textures& where) : textures(where) {}
  ~State() { forget(); }
  State(const State&) = delete;
  State& operator=(const State&) = delete;

  Textures& textures;
  PanelDescription panel;
  FaceGeometry face;
  FaceFrame frame;
  ImTextureID plate = nullptr;
  Extent plate_extent;
  float painted_scale = 0;
  // Of the plate that is shown, once its parts have moved on it: the next move is then quick.
  std::optional<Canvas> bare;
  ImVec2 bare_size;   // mm
  bool anew = false;  // the panel is another, the scale may be the same
  std::map<std::string, std::vector<KeptSprite>> sprites;
  double changed_at = 0;
  float wanted_scale = 0;

  void forget() {
    if (plate != nullptr) textures.drop(plate);
    plate = nullptr;
    for (const auto& [key, kept] : sprites) {
      for (const KeptSprite& one : kept) textures.drop(one.texture);
    }
    sprites.clear();
  }

  // Of what is kept nothing that the new panel has not.
  void forget_sprites_but(const std::vector<FacePart>& parts) {
    std::set<std::string> keys;
    for (const FacePart& part : parts) keys.insert(key_of(part));
    std::erase_if(sprites, [&](const auto& kept) {
      if (keys.contains(kept.first)) return false;
      for (const KeptSprite& one : kept.second) textures.drop(one.texture);
      return true;
    });
  }

  Bitmap plate_bitmap(float scale, float margin, bool same_size) {
    if (!same_size) {
      bare.reset();
      return painted_plate(panel, face, scale, margin);
    }
    if (!bare) bare = bare_plate(face, scale, margin);
    return with_parts(*bare, panel, face);
  }

  void paint() {
    const float scale = frame.pixels_per_mm;
    const bool same_size = scale == painted_scale && bare_size.x == face.width &&
                           bare_size.y == face.height && plate != nullptr;
    if (same_size)
      textures.drop(std::exchange(plate, nullptr));
    else
      forget();
    bare_size = {face.width, face.height};
    // Whole pixels of margin, so that plate and pixels agree.
    const float margin = std::ceil(kMarginMm * scale) / scale;
    const Bitmap bitmap = plate_bitmap(scale, margin, same_size);
    plate = textures.keep(bitmap);
    plate_extent = {-margin, -margin, static_cast<float>(bitmap.width) / scale - margin,
                    static_cast<float>(bitmap.height) / scale - margin};
    const std::vector<FacePart> parts = parts_of(panel, face);
    forget_sprites_but(parts);
    for (const FacePart& part : parts) {
      const PartLook& look = look_of(part);
      if (look.paint_sprites == nullptr) continue;
      std::vector<KeptSprite>& kept = sprites[key_of(part)];
      if (!kept.empty()) continue;
      for (const Sprite& sprite : look.paint_sprites(part, scale)) {
        kept.push_back({textures.keep(sprite.bitmap), sprite.extent});
      }
    }
    painted_scale = scale;
  }

  void take_panel(const PanelDescription& wanted) {
    if (wanted == panel) return;
    panel = wanted;
    face = geometry_of(panel, face.legend_mm > 0 ? face.legend_mm : kLegendMm);
    anew = true;
  }

  void see_box(const Box& box, float unit) {
    frame = frame_in(box, face);
    const float legend_mm = legend_mm_at(frame.pixels_per_mm / unit);
    if (legend_mm != face.legend_mm) face = geometry_of(panel, legend_mm);
  }

  void see_size(double seconds) {
    if (frame.pixels_per_mm != wanted_scale) {
      wanted_scale = frame.pixels_per_mm;
      changed_at = seconds;
    }
    const bool rests = seconds - changed_at >= kRestSeconds;
    if (painted_scale == 0 || std::exchange(anew, false) ||
        (painted_scale != wanted_scale && rests))
      paint();
  }
};

Face::Face(Textures& textures) : state_(std::make_unique<State>(textures)) {}

Face::~Face() = default;

namespace {

void draw_legend(FaceDrawing& drawing, const Legend& legend, float letters_mm) {
  const auto count = static_cast<float>(legend.lines.size());
  if (count == 0) return;
  const float line = legend.box.height() / count;
  for (std::size_t i = 0; i < legend.lines.size(); ++i) {
    const Point middle = {legend.box.middle().x,
                          legend.box.top + line * (static_cast<float>(i) + 0.5F)};
    drawing.engraved(middle, std::min(line, letters_mm * 1.25F), legend.lines[i],
                     legend.box.width());
  }
}

}  // namespace

void Face::draw(ImDrawList& list, const Box& box, const Typefaces& type, const SeatView& seat,
                const FaceMarks& marks, double seconds, const FlashWatch* calm) {
  State& state = *state_;
  state.take_panel(seat.device.panel().description);
  state.see_box(box, type.unit);
  state.see_size(seconds);
  const Extent& e = state.plate_extent;
  const ImVec2 corner = state.frame.pixel({e.left, e.top});
  const ImVec2 end = state.frame.pixel({e.right, e.bottom});
  list.AddImage(state.plate, {std::round(corner.x), std::round(corner.y)},
                {std::round(end.x), std::round(end.y)});
  FaceDrawing drawing(list, state.frame, type);
  const std::vector<FacePart> parts = parts_of(state.panel, state.face);
  draw_legend(drawing, state.face.title, state.face.legend_mm);
  for (std::size_t i = 0; i < parts.size(); ++i) {
    const PartMarks mark = i < marks.size() ? marks[i] : PartMarks{};
    const PartLook& look = look_of(parts[i]);
    draw_legend(drawing, parts[i].legend, state.face.legend_mm);
    draw_marks_under(drawing, parts[i], mark);
    drawing.use(state.sprites[key_of(parts[i])]);
    if (look.draw != nullptr) look.draw(drawing, parts[i], {seat, mark, seconds, calm});
    draw_marks_over(drawing, parts[i], mark);
  }
  for (std::size_t i = 0; i < parts.size(); ++i) {
    const PartLook& look = look_of(parts[i]);
    if (look.draw_light == nullptr) continue;
    drawing.use(state.sprites[key_of(parts[i])]);
    const PartMarks mark = i < marks.size() ? marks[i] : PartMarks{};
    look.draw_light(drawing, parts[i], {seat, mark, seconds, calm});
  }
}

const FaceGeometry& Face::geometry() const {
  return state_->face;
}

const FaceFrame& Face::frame() const {
  return state_->frame;
}

float Face::engraved_px() const {
  return std::clamp(std::round(state_->face.legend_mm * state_->frame.pixels_per_mm), 8.0F, 64.0F);
}

bool Face::moving() const {
  return state_->painted_scale != state_->wanted_scale;
}

}  // namespace understudy
