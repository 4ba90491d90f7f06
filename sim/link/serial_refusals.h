// The sentences with which a serial port refuses: what was tried, on what, what stands in the way,
// what to do. What is the case is found out by the system's own file.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "sim/base/result.h"
#include "sim/link/serial_device.h"

namespace understudy {

// Who may open a port, as a system with users and groups says it.
struct PortRights {
  std::string owner;
  std::string group;
  std::string user;            // who asks
  bool group_may = false;      // open it for reading and writing
  bool user_in_group = false;  // as the system's list says
};

Error refused_busy(const std::string& path, const std::vector<Holder>& holders);
Error refused_rights(const std::string& path, const PortRights& rights);
// `is`: "a folder", "a file", "a pipe".
Error refused_kind(const std::string& path, const std::string& is);
// `leads_to`: where a name that is there points; empty where there is no such name.
Error refused_absent(const std::string& path, const std::string& leads_to,
                     std::span<const SerialPortInfo> ports);
// Anything else that the system said.
Error refused_otherwise(const std::string& path, const std::string& said);

// The settings that a port took differ from those asked for by more than its receiver forgives: in
// speed by more than 3 %, in framing at all. Absent where they do not.
std::optional<Error> refused_settings(const std::string& path, const SerialSettings& asked,
                                      const SerialSettings& taken);

}  // namespace understudy
