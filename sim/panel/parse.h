// Parsing for the loader, which knows where files named in a panel lie.
#pragma once

#include <memory>
#include <string_view>

#include "sim/base/result.h"
#include "sim/model/panel.h"
#include "sim/panel/sensor_values.h"

namespace understudy {

// As parse_panel. Files that the panel names are read by `beside`; where there are any, Panel::text
// is the panel written out in full, with what stood in them.
Result<std::shared_ptr<const Panel>> parse_panel_beside(std::string_view text,
                                                        std::string_view file_name,
                                                        const ReadBeside& beside);

// Reads files that a panel names from the folder that the panel file lies in.
ReadBeside files_beside(const std::string& panel_path);

}  // namespace understudy
