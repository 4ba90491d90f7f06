// Rows of the key table: the matrix of buttons and switches, and how their cells fit into it.
#include <array>
#include <map>

#include "sim/panel/control_kinds.h"
#include "sim/panel/matrix_cells.h"
#include "sim/panel/readers.h"
#include "sim/panel/rows.h"
#include "sim/panel/shared_readers.h"

namespace understudy {
namespace {

using P = PanelDescription;
constexpr auto kMatrix = &P::matrix;
using Pins = std::vector<std::string>;

template <Pins MatrixDescription::*Member>
void read_line_pins(const KeyText& key, const Node& node, P& into, Mistakes& mistakes) {
  auto pins = read_pin_names(key, node, mistakes);
  if (!pins) return;
  if (pins->empty() || pins->size() > kMatrixLinesMax) return add_wrong(key, node, mistakes);
  into.matrix.*Member = *std::move(pins);
}

template <Pins MatrixDescription::*Member>
std::string write_line_pins(const P& from) {
  const Pins& pins = from.matrix.*Member;
  return pins.empty() ? "" : write_texts(pins);
}

}  // namespace

std::span<const KeyOf<P>> matrix_rows() {
  using S = Section;
  using M = MatrixDescription;
  // clang-format off
  static const auto rows = std::to_array<KeyOf<P>>({
      {{.section = S::kMatrix, .name = "rows", .type = "a list of 1 to 16 pins such as [\"D2\", "
        "\"D3\"]", .fallback = "none", .meaning = "The pins that are read, pulled up; one for each "
        "row.", .example = "[\"D2\", \"D3\"]", .shape = ValueShape::kPins},
       read_line_pins<&M::row_pins>, write_line_pins<&M::row_pins>},
      {{.section = S::kMatrix, .name = "columns", .type = "a list of 1 to 16 pins such as [\"D4\", "
        "\"D5\"]", .fallback = "none", .meaning = "The pins that are driven low one after the "
        "other; one for each column.", .example = "[\"D4\", \"D5\"]", .shape = ValueShape::kPins},
       read_line_pins<&M::column_pins>, write_line_pins<&M::column_pins>},
      flag_row<kMatrix, &M::diodes>({.section = S::kMatrix, .name = "diodes",
          .fallback = "true", .meaning = "Whether each button has a diode; without, a fourth seems "
          "down when three are.", .example = "false"}),
  });
  // clang-format on
  return rows;
}

void check_matrix(const Node& root, const std::vector<const Node*>& tables, const P& panel,
                  Mistakes& mistakes) {
  const MatrixDescription& matrix = panel.matrix;
  const Node* given = root.find("matrix");
  if (given != nullptr && given->kind == NodeKind::kTable) {
    for (const char* key : {"rows", "columns"}) {
      if (given->find(key) == nullptr)
        mistakes.add({given->place, "matrix", "no " + std::string(key), "rows and columns", ""});
    }
  }
  std::map<std::pair<int, int>, std::string> taken;
  for (std::size_t i = 0; i < tables.size() && i < panel.controls.size(); ++i) {
    const ControlDescription& control = panel.controls[i];
    if (!control.cell.given()) continue;
    const auto rows = static_cast<int>(matrix.row_pins.size());
    const auto columns = static_cast<int>(matrix.column_pins.size());
    const std::string cell = "[" + std::to_string(control.cell.row + 1) + ", " +
                             std::to_string(control.cell.column + 1) + "]";
    if (given == nullptr) {
      add_at(*tables[i], "cell", "it without a matrix", "[matrix] with rows and columns", "",
             mistakes);
    } else if (control.cell.row >= rows || control.cell.column >= columns) {
      if (rows == 0 || columns == 0) continue;  // told already
      add_at(
          *tables[i], "cell", cell,
          "a row up to " + std::to_string(rows) + " and a column up to " + std::to_string(columns),
          "give [matrix] more pins", mistakes);
    } else {
      const auto [at, fresh] =
          taken.emplace(std::pair{control.cell.row, control.cell.column}, control.name);
      if (!fresh)
        add_at(*tables[i], "cell", cell + ", where " + at->second + " sits", "a cell of its own",
               "", mistakes);
    }
  }
}

}  // namespace understudy
