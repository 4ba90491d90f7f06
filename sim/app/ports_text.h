// What `ports` says of the serial ports of this machine.
#pragma once

#include <span>
#include <string>

#include "sim/link/serial_device.h"

namespace understudy {

// A few lines for each port: what it is, its USB ids, what to type. One sentence where there is
// none. What devices say of themselves is shown with anything unprintable escaped.
std::string ports_text(std::span<const SerialPortInfo> ports);

// A JSON list with an object for each: path, description, type (the words for --serial), and usb
// (vid, pid, maker, product, serial_number) or null.
std::string ports_json(std::span<const SerialPortInfo> ports);

}  // namespace understudy
