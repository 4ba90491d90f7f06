// A panel file as somebody names it on the command line. Reading it is sim/panel's work; here is
// said what was likely meant where there is no such file.
#pragma once

#include <memory>
#include <string>
#include <string_view>

#include "sim/base/result.h"
#include "sim/model/panel.h"

namespace understudy {

// What the files are called that `new` writes.
inline constexpr std::string_view kPanelSuffix = ".panel.toml";

// As load_panel; its errors offer a panel file of nearly that name in the same folder, and tell
// where the game belongs if `path` is a program.
Result<std::shared_ptr<const Panel>> load_panel_argument(const std::string& path);

}  // namespace understudy
