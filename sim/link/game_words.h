// What a game is started with, worked out from GameOptions; for the files that start it.
#pragma once

#include <string>
#include <vector>

#include "sim/base/result.h"
#include "sim/link/game_process.h"

namespace understudy {

// The words with {port}, {host} and {tcp} filled in. Errors: kUnusable where one is not open.
Result<std::vector<std::string>> words_for(const GameOptions& options);

// This process's environment with the entries of `options` put on top, as NAME=VALUE.
std::vector<std::string> environment_for(const GameOptions& options);

// Why `game` could not be started, from the system's error number, with the nearest remedy.
Error cannot_start(const std::string& game, int reason);

}  // namespace understudy
