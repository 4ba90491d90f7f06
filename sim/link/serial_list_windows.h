// Which serial ports Windows knows, and what it says of them. Opens none.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "sim/link/serial_device.h"

namespace understudy {

// "COM5" for "com5", "COM5:" and "\\\\.\\COM5"; anything else comes out as it is.
std::string port_name_of(std::string_view path);

// By number.
std::vector<SerialPortInfo> list_windows_ports();

}  // namespace understudy
