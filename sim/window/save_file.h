// Writes a file so that it is the old one or the new one at every moment, never half of one.
#pragma once

#include <string>
#include <string_view>

#include "sim/base/result.h"

namespace understudy {

// Writes beside the file and puts that in its place; its rights stay, and a link goes on leading
// where it leads. Errors: kUnusable, with the system's reason; the old file is then as it was.
Result<Done> save_file(const std::string& path, std::string_view text);

// The whole of a file, or the first byte more than a panel file may have. Errors: kUnusable, with
// the system's reason, also for folders, pipes and devices.
Result<std::string> read_whole(const std::string& path);

}  // namespace understudy
