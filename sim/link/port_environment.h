// What a game needs in its environment so that a pseudo-terminal of ours is enough of a serial port
// for it: the port library, which answers for the modem lines, and the names library.
#pragma once

#include <string>
#include <vector>

#include "sim/base/result.h"
#include "sim/link/game_process.h"
#include "sim/link/link.h"

namespace understudy {

// Entries for GameOptions::environment: LD_PRELOAD (with what the user had there behind ours) and
// UNDERSTUDY_PORT. Empty for a link that is no pseudo-terminal. The libraries are looked for beside
// this program. Errors: kUnusable where they are not there.
Result<std::vector<EnvironmentEntry>> port_environment(const Link& link);

// "NAME='VALUE' NAME='VALUE'" to put before one command in a POSIX shell: --print-env.
std::string written(const std::vector<EnvironmentEntry>& entries);

}  // namespace understudy
