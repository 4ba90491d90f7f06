// What a game needs in its environment so that a pseudo-terminal of ours is enough of a serial port
// for it: the port library, which answers for the modem lines, and the names library.
#pragma once

#include <span>
#include <string>
#include <vector>

#include "sim/base/result.h"
#include "sim/link/game_process.h"
#include "sim/link/link.h"

namespace understudy {

// Entries for GameOptions::environment, for all links that are pseudo-terminals: LD_PRELOAD (with
// what the user had there behind ours), UNDERSTUDY_PORT (the first) and UNDERSTUDY_PORTS (all, as
// the system names them, parted by colons). Empty where there is none. The libraries are looked for
// in `folder`; empty: beside this program or, from there, in ../lib/understudy. Errors: kUnusable
// where they are not there.
Result<std::vector<EnvironmentEntry>> port_environment(std::span<const Link* const> links,
                                                       const std::string& folder = {});

// "NAME='VALUE' NAME='VALUE'" to put before one command in a POSIX shell: --print-env.
std::string written(const std::vector<EnvironmentEntry>& entries);

}  // namespace understudy
