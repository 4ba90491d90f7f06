// A real serial port as a link: this machine speaks as the panel, and the game is on the other end
// of a crossed cable (two adapters and three wires: ground, and each one's sending pin to the
// other's receiving pin), on whatever system it likes.
#pragma once

#include <memory>
#include <string>

#include "sim/link/link.h"
#include "sim/link/pacer.h"
#include "sim/link/serial_device.h"

namespace understudy {

struct SerialOptions {
  std::string port;  // as read_serial_place() takes it
  SerialSettings settings;
  int host_buffer_bytes = 4'096;  // HostDescription::buffer_bytes
  SerialPorts* ports = &system_serial_ports();
};

// What the cable tells. With five more wires crossed (DTR to DSR, RTS to CTS), the game's opening
// is DSR rising and its closing DSR falling; a game that sends while DSR is down has it open with
// DTR low. While DSR was never seen up, it is taken as not wired, and the game counts as there from
// the start with DTR raised: said once. Speed and framing are the port's own, so no LineSettings
// come out; what the game has read cannot be seen (takes_at_once).
//
// A port that goes away closes the link, and is looked for twice a second by its USB ids and serial
// number, or by its path where it has none; both are said once.
// Errors: as SerialPorts::open; kUnusable (the name cannot be read).
Result<std::unique_ptr<Link>> open_serial(Pacer& pacer, const SerialOptions& options);

}  // namespace understudy
