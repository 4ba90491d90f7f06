// Without pseudo-terminals there is nothing to put into a game's environment.
#include "sim/link/port_environment.h"

namespace understudy {

Result<std::vector<EnvironmentEntry>> port_environment(std::span<const Link* const>,
                                                       const std::string&) {
  return std::vector<EnvironmentEntry>{};
}

// For a batch file.
std::string written(const std::vector<EnvironmentEntry>& entries) {
  std::string text;
  for (const EnvironmentEntry& entry : entries)
    text += "set \"" + entry.name + "=" + entry.value + "\"\n";
  return text;
}

}  // namespace understudy
