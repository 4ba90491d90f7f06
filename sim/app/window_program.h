// The program beside this one that has the window.
#pragma once

#include <string>
#include <vector>

#include "sim/base/result.h"

namespace understudy {

// Puts it, with `understudy panel WORDS`, in this process's place, so that signals, streams and the
// process number are its own. Comes back only when that cannot be. kLinkFailed: the library for
// windows or the program is not there, or this system has none; names `serve`, which needs neither.
Error run_window_program(const std::vector<std::string>& words);

}  // namespace understudy
