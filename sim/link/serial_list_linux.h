// Which serial ports Linux knows.
#pragma once

#include <vector>

#include "sim/link/serial_device.h"

namespace understudy {

// As SerialPorts::list().
std::vector<SerialPortInfo> list_linux_ports();

}  // namespace understudy
