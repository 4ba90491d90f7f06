// How the cells of buttons and switches fit into the matrix of a panel.
#pragma once

#include <vector>

#include "sim/model/panel_description.h"
#include "sim/panel/mistakes.h"

namespace understudy {

// Each cell lies in the matrix, and no two parts sit in one. `tables` are those of panel.controls.
void check_matrix(const Node& root, const std::vector<const Node*>& tables,
                  const PanelDescription& panel, Mistakes& mistakes);

}  // namespace understudy
