// A picture of the whole window as a PNG file, drawn without a display.
#pragma once

#include "sim/window/window.h"

namespace understudy {

// As run_window with options.picture. The same view gives the same bytes.
Result<Done> write_picture(const WindowOptions& options, Exchange& exchange);

}  // namespace understudy
