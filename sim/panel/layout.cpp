// Rows of parts in the order of the file, as many in each as the face is wide. What is wider than
// usual takes the room of several, and a row is as high as what is highest in it.
#include "sim/panel/layout.h"

#include <algorithm>

#include "sim/panel/control_kinds.h"

namespace understudy {
namespace {

constexpr std::int64_t kPitchUm = 40'000;  // from middle to middle, a hand's room
constexpr std::int64_t kRowUm = 45'000;
constexpr std::int64_t kGapUm = 6'000;  // between parts, at the least
constexpr std::int64_t kMarginUm = 20'000;
constexpr std::int64_t kColumnsMax = 8;

struct Part {
  Place* place = nullptr;
  std::int64_t columns = 1;
  std::int64_t height_um = kRowUm;
};

template <class Described>
void add_unplaced(std::vector<Described>& described, std::vector<Part>& parts) {
  for (Described& one : described) {
    if (one.place.placed) continue;
    const Footprint size = footprint_of(one);
    const std::int64_t columns = (size.width_um + kGapUm + kPitchUm - 1) / kPitchUm;
    parts.push_back({&one.place, columns, std::max(kRowUm, size.height_um + kMarginUm)});
  }
}

// The furthest that any part with a place reaches, so that a face without a size holds it.
Place furthest(const PanelDescription& panel) {
  Place far;
  const auto reach = [&](const Place& place, const Footprint& size) {
    if (!place.placed) return;
    far.x_um = std::max(far.x_um, place.x_um + std::max(kMarginUm, size.width_um / 2 + kGapUm));
    far.y_um = std::max(far.y_um, place.y_um + std::max(kMarginUm, size.height_um / 2 + kGapUm));
  };
  for (const ControlDescription& control : panel.controls)
    reach(control.place, footprint_of(control));
  for (const OutputDescription& output : panel.outputs) reach(output.place, footprint_of(output));
  return far;
}

std::int64_t columns_of(const std::vector<Part>& parts) {
  std::int64_t columns = 0;
  for (const Part& part : parts) columns += part.columns;
  return columns;
}

struct Row {
  std::vector<Part> parts;
  std::int64_t height_um = 0;
};

// Rows of at most so many columns; what is wider than that has a row of its own.
void fill_rows(const std::vector<Part>& parts, std::int64_t columns, std::vector<Row>& rows) {
  bool fresh = true;
  for (const Part& part : parts) {
    if (fresh || columns_of(rows.back().parts) + part.columns > columns) rows.emplace_back();
    fresh = false;
    Row& row = rows.back();
    row.parts.push_back(part);
    row.height_um = std::max(row.height_um, part.height_um);
  }
}

// Whole tenths of a millimetre: nobody drills finer.
std::int64_t tenths(std::int64_t um) {
  return um / 100 * 100;
}

// Spreads the rows evenly over the face, and the parts of each over its width.
void place_rows(const PanelDescription& panel, const std::vector<Row>& rows) {
  std::int64_t total = 0;
  for (const Row& row : rows) total += row.height_um;
  std::int64_t above = 0;
  for (const Row& row : rows) {
    const std::int64_t columns = columns_of(row.parts);
    std::int64_t before = 0;
    for (const Part& part : row.parts) {
      *part.place = {true, tenths(panel.width_um * (2 * before + part.columns) / (2 * columns)),
                     tenths(panel.height_um * (2 * above + row.height_um) / (2 * total))};
      before += part.columns;
    }
    above += row.height_um;
  }
}

}  // namespace

Footprint footprint_of(const ControlDescription& control) {
  return control_kind(control.kind).size(control);
}

Footprint footprint_of(const OutputDescription& output) {
  switch (output.kind) {
    case OutputKind::kLamp:
    case OutputKind::kRgb:
      return {.width_um = 13'000, .height_um = 13'000};
    case OutputKind::kGauge:
      return {.width_um = 60'000, .height_um = 45'000};
    case OutputKind::kBuzzer:
      return {.width_um = 14'000, .height_um = 14'000};
    case OutputKind::kDigits:  // digits of 14 mm stand 12.7 mm apart
      return {.width_um = 12'700 * output.digits.count, .height_um = 20'000};
  }
  return {};
}

void lay_out(PanelDescription& panel) {
  std::vector<Part> outputs;
  std::vector<Part> controls;
  add_unplaced(panel.outputs, outputs);
  add_unplaced(panel.controls, controls);
  const Place far = furthest(panel);
  if (panel.width_um == 0) {
    std::int64_t most = std::max(columns_of(outputs), columns_of(controls));
    most = std::clamp<std::int64_t>(most, 1, kColumnsMax);
    panel.width_um = std::max({most * kPitchUm, far.x_um, 2 * kPitchUm});
  }
  const std::int64_t columns = std::max<std::int64_t>(1, panel.width_um / kPitchUm);
  std::vector<Row> rows;
  fill_rows(outputs, columns, rows);
  std::vector<Row> below;
  fill_rows(controls, columns, below);
  rows.insert(rows.end(), below.begin(), below.end());
  if (panel.height_um == 0) {
    std::int64_t height_um = 0;
    for (const Row& row : rows) height_um += row.height_um;
    panel.height_um = std::max({height_um, far.y_um, 2 * kRowUm});
  }
  place_rows(panel, rows);
}

}  // namespace understudy
