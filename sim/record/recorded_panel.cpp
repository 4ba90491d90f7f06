// Parses both texts and compares what they say.
#include "sim/record/recorded_panel.h"

#include "sim/panel/panel_file.h"

namespace understudy {

Result<std::shared_ptr<const Panel>> recorded_panel(const RecordedPanel& recorded) {
  if (recorded.panel.empty() && recorded.resolved.empty()) return bare_panel(recorded.name);
  Result<std::shared_ptr<const Panel>> resolved =
      parse_panel(recorded.resolved, recorded.name + " (resolved)");
  if (!resolved.ok() || recorded.panel.empty()) return resolved;
  Result<std::shared_ptr<const Panel>> panel = parse_panel(recorded.panel, recorded.name);
  if (!panel.ok()) return panel;
  if (resolved_toml(panel.value()->description) != resolved_toml(resolved.value()->description))
    return Error{ErrorCode::kUnusable,
                 "\"panel\" and \"resolved\" describe two different panels; one of them was "
                 "changed"};
  auto whole = std::make_shared<Panel>(*resolved.value());
  whole->text = recorded.panel;
  return std::shared_ptr<const Panel>(std::move(whole));
}

}  // namespace understudy
