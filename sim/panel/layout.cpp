// Even rows: as many parts in a row as the face is wide, in the order of the file.
#include "sim/panel/layout.h"

#include <algorithm>

namespace understudy {
namespace {

constexpr std::int64_t kPitchUm = 40'000;  // from middle to middle, a hand's room
constexpr std::int64_t kRowUm = 45'000;
constexpr std::int64_t kMarginUm = 20'000;
constexpr std::int64_t kColumnsMax = 8;

std::vector<Place*> unplaced(PanelDescription& panel, bool outputs) {
  std::vector<Place*> places;
  if (outputs) {
    for (OutputDescription& output : panel.outputs)
      if (!output.place.placed) places.push_back(&output.place);
  } else {
    for (ControlDescription& control : panel.controls)
      if (!control.place.placed) places.push_back(&control.place);
  }
  return places;
}

// The furthest that any part with a place reaches, so that a face without a size holds it.
Place furthest(const PanelDescription& panel) {
  Place far;
  const auto reach = [&](const Place& place) {
    if (!place.placed) return;
    far.x_um = std::max(far.x_um, place.x_um + kMarginUm);
    far.y_um = std::max(far.y_um, place.y_um + kMarginUm);
  };
  for (const ControlDescription& control : panel.controls) reach(control.place);
  for (const OutputDescription& output : panel.outputs) reach(output.place);
  return far;
}

std::int64_t rows_of(std::size_t count, std::int64_t columns) {
  return (static_cast<std::int64_t>(count) + columns - 1) / columns;
}

struct Grid {
  std::int64_t columns = 1;
  std::int64_t rows = 1;       // of the whole face
  std::int64_t first_row = 0;  // of these parts
};

void place_rows(const PanelDescription& panel, const Grid& grid, std::vector<Place*>& places) {
  const auto count = static_cast<std::int64_t>(places.size());
  for (std::int64_t i = 0; i < count; ++i) {
    const std::int64_t row = i / grid.columns;
    const std::int64_t in_row = std::min(grid.columns, count - row * grid.columns);
    const std::int64_t x = panel.width_um * (2 * (i % grid.columns) + 1) / (2 * in_row);
    const std::int64_t y = panel.height_um * (2 * (grid.first_row + row) + 1) / (2 * grid.rows);
    // Whole tenths of a millimetre: nobody drills finer.
    *places[static_cast<std::size_t>(i)] = {true, x / 100 * 100, y / 100 * 100};
  }
}

}  // namespace

void lay_out(PanelDescription& panel) {
  std::vector<Place*> outputs = unplaced(panel, true);
  std::vector<Place*> controls = unplaced(panel, false);
  const Place far = furthest(panel);
  if (panel.width_um == 0) {
    const auto most = static_cast<std::int64_t>(std::max(outputs.size(), controls.size()));
    const std::int64_t columns = std::clamp<std::int64_t>(most, 1, kColumnsMax);
    panel.width_um = std::max({columns * kPitchUm, far.x_um, 2 * kPitchUm});
  }
  const std::int64_t columns = std::max<std::int64_t>(1, panel.width_um / kPitchUm);
  const std::int64_t output_rows = rows_of(outputs.size(), columns);
  const std::int64_t rows =
      std::max<std::int64_t>(1, output_rows + rows_of(controls.size(), columns));
  if (panel.height_um == 0) panel.height_um = std::max({rows * kRowUm, far.y_um, 2 * kRowUm});
  place_rows(panel, {.columns = columns, .rows = rows, .first_row = 0}, outputs);
  place_rows(panel, {.columns = columns, .rows = rows, .first_row = output_rows}, controls);
}

}  // namespace understudy
