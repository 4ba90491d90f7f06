// What [[answer]] may say, held against the panel's own names.
#pragma once

#include "sim/model/panel_description.h"
#include "sim/panel/mistakes.h"

namespace understudy {

// `node` is the text of `when` ("doors press") or `expect` ("door_lamp lit").
void check_answer_when(const Node& node, const PanelDescription& panel, Mistakes& mistakes);
void check_answer_expect(const Node& node, const PanelDescription& panel, Mistakes& mistakes);

}  // namespace understudy
