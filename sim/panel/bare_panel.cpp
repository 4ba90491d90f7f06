// A box of which nothing is known.
#include "sim/base/check.h"
#include "sim/panel/panel_file.h"

namespace understudy {

std::shared_ptr<const Panel> bare_panel(const std::string& name) {
  PanelDescription description;
  description.name = name;
  description.manners.loop = seconds(1);  // a program that does nothing need not do it often
  auto panel = compile_panel(std::move(description));
  CHECK(panel.ok(), "a panel without anything must compile");
  return std::move(panel).value();
}

bool is_bare(const Panel& panel) {
  return panel.text.empty() && panel.description.controls.empty() &&
         panel.description.outputs.empty();
}

}  // namespace understudy
