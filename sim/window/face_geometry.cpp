// A legend stands below its part, above it where there is no room below, and takes the width that
// its neighbours leave.
#include "sim/window/face_geometry.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "sim/model/kinds.h"
#include "sim/panel/layout.h"
#include "sim/window/face_parts.h"

namespace understudy {
namespace {

constexpr float kEdgeMm = 2.5F;    // of the plate, kept free
constexpr float kGapMm = 0.6F;     // between legends and all else
constexpr float kLetter = 0.465F;  // about the width of a letter, of its height
constexpr float kLine = 0.95F;     // from line to line, of the same
constexpr float kReadablePx = 13.0F;
constexpr float kLargestMm = 8.5F;
constexpr float kPointerMm = 12.0F;

float mm_of(std::int64_t um) {
  return static_cast<float>(um) / 1000.0F;
}

template <class Described>
PlacedPart placed(const Described& described, PartId id) {
  const Footprint size = footprint_of(described);
  const Point middle = {mm_of(described.place.x_um), mm_of(described.place.y_um)};
  return {.id = id,
          .middle = middle,
          .body = around(middle, mm_of(size.width_um), mm_of(size.height_um)),
          .legend = {}};
}

// The words divided so that the longer line is as short as can be; one line where there is no gap.
std::vector<std::string> in_two(const std::string& text) {
  std::size_t best = std::string::npos;
  for (std::size_t at = text.find(' '); at != std::string::npos; at = text.find(' ', at + 1)) {
    const std::size_t longer = std::max(at, text.size() - at - 1);
    if (best == std::string::npos || longer < std::max(best, text.size() - best - 1)) best = at;
  }
  if (best == std::string::npos) return {text};
  return {text.substr(0, best), text.substr(best + 1)};
}

std::size_t longest(const std::vector<std::string>& lines) {
  std::size_t most = 0;
  for (const std::string& line : lines) most = std::max(most, line.size());
  return most;
}

// Half the width that is free around `x` between two heights.
float free_half(const FaceGeometry& face, const PlacedPart& mine, float top, float bottom) {
  float half = std::min(mine.middle.x, face.width - mine.middle.x) - kEdgeMm;
  for (const PlacedPart& other : face.parts) {
    if (other.id == mine.id) continue;
    const float apart = std::abs(other.middle.x - mine.middle.x);
    const bool beside_body = other.body.top < bottom + kGapMm && top - kGapMm < other.body.bottom;
    if (beside_body) half = std::min(half, apart - other.body.width() / 2 - kGapMm);
    // Its legend, which may not have its place yet, wants half of what lies between.
    const float two = 2 * kLine * face.legend_mm;
    const bool near = other.body.top - two < bottom && top < other.body.bottom + two;
    if (near && apart > 1) half = std::min(half, apart / 2 - kGapMm / 2);
    const Extent& legend = other.legend.box;
    if (legend.width() > 0 && legend.top < bottom && top < legend.bottom) {
      half = std::min(half, apart - legend.width() / 2 - kGapMm);
    }
  }
  return half;
}

struct Spot {
  Legend legend;
  float squeeze = 0;  // 1: letters of full size fit
};

Spot spot_at(const FaceGeometry& face, const PlacedPart& part, const std::string& text, bool below,
             bool two_lines) {
  Spot spot;
  spot.legend.lines = two_lines ? in_two(text) : std::vector<std::string>{text};
  const float height = kLine * face.legend_mm * static_cast<float>(spot.legend.lines.size());
  const float top = below ? part.body.bottom + 1.2F : part.body.top - 1.2F - height;
  const float bottom = top + height;
  if (top < kEdgeMm / 2 || bottom > face.height - kEdgeMm / 2) return spot;
  const float half = free_half(face, part, top, bottom);
  const float letter = kLetter * face.legend_mm;
  const float wanted = letter * static_cast<float>(longest(spot.legend.lines)) + 1;
  if (half <= 0) return spot;
  const float width = std::min(wanted, 2 * half);
  spot.legend.box = around({part.middle.x, (top + bottom) / 2}, width, height);
  spot.squeeze = std::min(1.0F, width / wanted);
  return spot;
}

Legend legend_of(const FaceGeometry& face, const PlacedPart& part, const std::string& text) {
  Spot best;
  for (const bool below : {true, false}) {
    for (const bool two : {false, true}) {
      Spot spot = spot_at(face, part, text, below, two);
      if (spot.squeeze > best.squeeze + 0.15F) best = std::move(spot);
    }
    if (best.squeeze > 0.75F) break;
  }
  if (best.squeeze <= 0) {  // no room at all: across its lower edge, better than no name
    best.legend.lines = {text};
    const float line = kLine * face.legend_mm;
    best.legend.box = around({part.middle.x, part.body.bottom - line / 2}, part.body.width(), line);
  }
  return best.legend;
}

bool is_free(const FaceGeometry& face, const Extent& box) {
  return std::none_of(face.parts.begin(), face.parts.end(), [&](const PlacedPart& part) {
    return overlap(grown(part.body, 1), box) || overlap(grown(part.legend.box, 1), box);
  });
}

// The panel's name: the first corner or edge where there is room, smaller where there is little.
Legend title_of(const FaceGeometry& face, const std::string& name) {
  for (const float size : {1.25F, 1.0F, 0.8F}) {
    const float height = face.legend_mm * size;
    const float width = kLetter * height * static_cast<float>(name.size() + 1);
    constexpr float kIn = 11;
    const float left = kIn + width / 2;
    const float right = face.width - left;
    const float middle = face.width / 2;
    const float top = 7.5F;
    const float bottom = face.height - top;
    for (const Point& at : {Point{left, top},
                            {left, bottom},
                            {right, bottom},
                            {right, top},
                            {middle, top},
                            {middle, bottom}}) {
      const Extent box = around(at, width, height);
      if (box.left > kEdgeMm && box.right < face.width - kEdgeMm && is_free(face, box)) {
        return {box, {name}};
      }
    }
  }
  return {};
}

float squared(const Point& p) {
  return p.x * p.x + p.y * p.y;
}

std::int32_t ppm_of(float share) {
  return static_cast<std::int32_t>(std::lround(std::clamp(share, 0.0F, 1.0F) * 1e6F));
}

float share_of(std::int32_t ppm) {
  return static_cast<float>(ppm) / 1e6F;
}

float sweep_deg(const ControlDescription& control) {
  if (control.kind == ControlKind::kSelector) {
    const auto steps = static_cast<float>(std::max(1, control.selector.places - 1));
    return std::min(kSelectorStepDeg * steps, 300.0F);
  }
  return static_cast<float>(control.pot.travel) / 1000.0F;
}

bool is_slide(const ControlDescription& control) {
  return control.kind == ControlKind::kPot && control.pot.shape == TravelShape::kSlide;
}

}  // namespace

std::string legend_text(std::string_view name) {
  std::string text(name);
  std::replace(text.begin(), text.end(), '_', ' ');
  if (!text.empty() && text[0] >= 'a' && text[0] <= 'z') {
    text[0] = static_cast<char>(text[0] - 'a' + 'A');
  }
  return text;
}

float legend_mm_at(float pixels_per_mm) {
  const float readable = kReadablePx / std::max(0.1F, pixels_per_mm);
  return std::clamp(std::ceil(readable * 4) / 4, kLegendMm, kLargestMm);
}

FaceGeometry geometry_of(const PanelDescription& panel, float legend_mm) {
  FaceGeometry face;
  face.legend_mm = legend_mm;
  face.width = mm_of(panel.width_um);
  face.height = mm_of(panel.height_um);
  for (std::size_t i = 0; i < panel.controls.size(); ++i) {
    face.parts.push_back(placed(panel.controls[i], {false, static_cast<std::uint16_t>(i)}));
  }
  for (std::size_t i = 0; i < panel.outputs.size(); ++i) {
    face.parts.push_back(placed(panel.outputs[i], {true, static_cast<std::uint16_t>(i)}));
  }
  for (PlacedPart& part : face.parts) {
    const PartLook& look = part.id.output ? look_of(panel.outputs[part.id.index].kind)
                                          : look_of(panel.controls[part.id.index].kind);
    if (look.writes_legend) continue;
    part.legend = legend_of(face, part,
                            legend_text(part.id.output ? panel.outputs[part.id.index].name
                                                       : panel.controls[part.id.index].name));
  }
  face.title = title_of(face, panel.name);
  return face;
}

FaceFrame frame_in(const Box& box, const FaceGeometry& face) {
  const float scale = std::min(box.width() / std::max(1.0F, face.width),
                               box.height() / std::max(1.0F, face.height));
  const float left = std::round(box.left + (box.width() - face.width * scale) / 2);
  const float top = std::round(box.top + (box.height() - face.height * scale) / 2);
  return {.box = {left, top, left + face.width * scale, top + face.height * scale},
          .pixels_per_mm = scale};
}

std::optional<FaceHit> hit(const FaceGeometry& face, const Point& mm) {
  constexpr float kBeside = 3;  // a finger is not a needle
  const PlacedPart* best = nullptr;
  float nearest = 0;
  for (const PlacedPart& part : face.parts) {
    const Point to_body = {std::max({part.body.left - mm.x, 0.0F, mm.x - part.body.right}),
                           std::max({part.body.top - mm.y, 0.0F, mm.y - part.body.bottom})};
    if (squared(to_body) > kBeside * kBeside) continue;
    const float away = squared(to_body) * 1e3F + squared(mm - part.middle);
    if (best != nullptr && away >= nearest) continue;
    best = &part;
    nearest = away;
  }
  if (best == nullptr) return std::nullopt;
  return FaceHit{best->id, mm - best->middle};
}

float travel_mm(const ControlDescription& control) {
  switch (control.kind) {
    case ControlKind::kPot:
      if (is_slide(control)) return mm_of(control.pot.travel);
      return sweep_deg(control) * std::numbers::pi_v<float> / 180 * kPointerMm;
    case ControlKind::kSelector:
      return sweep_deg(control) * std::numbers::pi_v<float> / 180 * kPointerMm;
    case ControlKind::kStick:
      return 2 * kLeanMm;
    case ControlKind::kEncoder:
      return 2 * std::numbers::pi_v<float> * kPointerMm;
    default:
      return 0;
  }
}

float pointer_deg(const ControlDescription& control, std::int32_t ppm) {
  if (control.kind == ControlKind::kEncoder) {
    return static_cast<float>(static_cast<double>(ppm % 1'000'000) * 360 / 1e6);
  }
  const float sweep = sweep_deg(control);
  return -sweep / 2 + sweep * share_of(ppm);
}

Point handle_at(const ControlDescription& control, std::int32_t x_ppm, std::int32_t y_ppm) {
  switch (control.kind) {
    case ControlKind::kPot:
      if (is_slide(control)) return {0, mm_of(control.pot.travel) * (0.5F - share_of(x_ppm))};
      return at_angle({}, kPointerMm, pointer_deg(control, x_ppm));
    case ControlKind::kSelector:
    case ControlKind::kEncoder:
      return at_angle({}, kPointerMm, pointer_deg(control, x_ppm));
    case ControlKind::kStick:
      return {2 * kLeanMm * (share_of(x_ppm) - 0.5F), 2 * kLeanMm * (0.5F - share_of(y_ppm))};
    default:
      return {};
  }
}

std::int32_t ppm_at(const ControlDescription& control, std::size_t part, const Point& from_middle) {
  switch (control.kind) {
    case ControlKind::kPot:
      if (is_slide(control)) return ppm_of(0.5F - from_middle.y / mm_of(control.pot.travel));
      [[fallthrough]];
    case ControlKind::kSelector: {
      const float degrees =
          std::atan2(from_middle.x, -from_middle.y) * 180 / std::numbers::pi_v<float>;
      return ppm_of(0.5F + degrees / std::max(1.0F, sweep_deg(control)));
    }
    case ControlKind::kStick:
      if (part == 0) return ppm_of(0.5F + from_middle.x / (2 * kLeanMm));
      return part == 1 ? ppm_of(0.5F - from_middle.y / (2 * kLeanMm)) : 0;
    default:
      return 0;
  }
}

bool on_ball(const ControlDescription& control, const Point& from_middle, std::int32_t x_ppm,
             std::int32_t y_ppm) {
  if (control.kind != ControlKind::kStick) return false;
  return squared(from_middle - handle_at(control, x_ppm, y_ppm)) < kBallRadiusMm * kBallRadiusMm;
}

}  // namespace understudy
