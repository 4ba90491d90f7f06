// Which processes have a path or a TCP port open. Looks through all processes that this user may
// look into: milliseconds, so only on demand.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "sim/link/link.h"

namespace understudy {

// Without this process.
std::vector<Holder> holders_of_path(const std::string& path);
// The same parted into games, whoever started first at the front: processes of one process group,
// and a process with those that descend from it, are one game.
std::vector<std::vector<Holder>> games_at_path(const std::string& path);
// With this process. `inode` is the socket's, as the system numbers sockets.
std::vector<Holder> holders_of_socket(std::uint64_t inode);

}  // namespace understudy
