// What a game is started with, worked out from GameOptions; for the files that start it.
#pragma once

#include <string>
#include <vector>

#include "sim/base/result.h"
#include "sim/link/game_process.h"

namespace understudy {

// The words with {port}, {host} and {tcp} filled in. Errors: kUnusable where one is not open.
Result<std::vector<std::string>> words_for(const GameOptions& options);

// What is to be put on top of this process's environment. An empty value: to be taken out, so that
// a session within a session is not mixed up.
std::vector<EnvironmentEntry> entries_for(const GameOptions& options);

// This process's environment with those entries on top, as NAME=VALUE.
std::vector<std::string> environment_for(const GameOptions& options);

// Why `game` could not be started, from the system's error number, with the nearest remedy.
Error cannot_start(const std::string& game, int reason);

}  // namespace understudy
