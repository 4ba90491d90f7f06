// A sensor: a small housing with a probe's grille and a window in which a paper strip rises with
// what it measures, its reading written below the glass. No hand moves it.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "sim/window/face_parts.h"

namespace understudy {
namespace {

Extent window_of(const FacePart& part) {
  return around(part.middle + Point{2.9F, 0}, 12.2F, 8.4F);
}

void paint_base(Canvas& canvas, const FacePart& part) {
  const Point& m = part.middle;
  const Shape box = rounded(around(m, 20, 14.6F), 2);
  canvas.shadow(box, {.height = 2.4F, .strength = 0.5F, .contact = 0.45F});
  canvas.fill(box, {.colour = light_of(0xCFC5AC),
                    .shine = 0.2F,
                    .roughness = 0.5F,
                    .height = rounded_edge(1.4F, 0.9F),
                    .tone = clouded(5, 0.05F, 31)});
  for (int i = -2; i <= 2; ++i) {
    const float y = m.y + 2.0F * static_cast<float>(i);
    canvas.hole(capsule({m.x - 7.7F, y}, {m.x - 5.3F, y}, 0.45F), light_of(0x14120E), 0.6F);
  }
  const Shape glass = rounded(window_of(part), 0.8F);
  canvas.hole(glass, light_of(paints::kDial), 0.8F);
}

std::string reading(const FacePart& part, const PartState& state) {
  const int decimals = part.control->sends.decimals;
  const double number = static_cast<double>(state.number(part)) / std::pow(10.0, decimals);
  return fmt::format("{:.{}f}", number, decimals);
}

void draw(FaceDrawing& drawing, const FacePart& part, const PartState& state) {
  const Extent glass = grown(window_of(part), -0.9F);
  const float share = state.share(part);
  const float top = glass.bottom - 1.5F;
  drawing.list().AddRectFilled(drawing.px(Point{glass.left, top}),
                               drawing.px(Point{glass.right, glass.bottom}),
                               IM_COL32(70, 60, 44, 60));
  drawing.list().AddRectFilled(drawing.px(Point{glass.left, top}),
                               drawing.px(Point{glass.left + glass.width() * share, glass.bottom}),
                               IM_COL32(163, 35, 26, 255));
  const Point middle = {glass.middle().x, (glass.top + top) / 2 - 0.1F};
  drawing.text(middle, drawing.readable(kLegendMm, 1.3F * kLegendMm), reading(part, state),
               IM_COL32(38, 34, 28, 255), glass.width());
}

}  // namespace

PartLook sensor_look() {
  return {.paint_base = paint_base, .draw = draw};
}

}  // namespace understudy
