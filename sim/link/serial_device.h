// What one system's serial ports can do: which there are, and one of them open. Keeps no count and
// knows no game: that is the serial link's (serial_link.h). Each system has a file of its own that
// makes system_serial_ports(); tests put ports of their own in its place.
#pragma once

#include <cstddef>
#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "sim/base/result.h"
#include "sim/link/pacer.h"
#include "sim/model/inputs.h"
#include "sim/model/panel_description.h"

namespace understudy {

// How a port is set: raw, without flow control, to this speed and framing.
struct SerialSettings {
  std::int64_t baud = 115'200;
  int data_bits = 8;
  Parity parity = Parity::kNone;
  int stop_bits = 1;
  friend bool operator==(const SerialSettings&, const SerialSettings&) = default;
};

// "115200 8N1".
std::string written(const SerialSettings& settings);

// The lines that the other end drives. On a crossed cable its DTR is DSR here and its RTS is CTS.
struct SerialLines {
  bool cts = false;
  bool dsr = false;
  friend bool operator==(const SerialLines&, const SerialLines&) = default;
};

// What a USB device says of itself; texts are empty where it says nothing.
struct UsbIdentity {
  std::uint16_t vendor_id = 0;
  std::uint16_t product_id = 0;
  std::string maker;
  std::string product;
  std::string serial_number;
};

// One port that the system knows.
struct SerialPortInfo {
  std::string path;         // "/dev/ttyUSB0", "COM5"
  std::string description;  // what the system calls it; never empty: the name at least
  std::optional<UsbIdentity> usb;
};

// A port that was opened: exclusive, set, with DTR and RTS raised; closing lowers both. Nothing
// here waits. Thread: the pacer's.
class SerialDevice {
 public:
  virtual ~SerialDevice() = default;

  // Something arrived, or the port went away, since read() last came out empty. The pacer is woken
  // when this becomes true, and also when a write() that took nothing would take some again, where
  // the system tells that.
  [[nodiscard]] virtual bool ready() const = 0;

  // At most `space` bytes that arrived; empty where there are none, or the port is gone. Where it
  // is not ready() any more afterwards, nothing is left.
  virtual std::string read(std::size_t space) = 0;

  // How many bytes, from the front, the system took; 0 where it would wait, or the port is gone.
  virtual std::size_t write(std::string_view bytes) = 0;

  // Bytes that the system took and has not sent yet, as far as it says.
  virtual std::size_t unsent() = 0;

  // Absent where the port has no such lines, or is gone.
  virtual std::optional<SerialLines> lines() = 0;

  // Raises or lowers DTR and RTS. Both together are the cable put in and pulled. A pseudo-terminal
  // that another session of ours made is told too; other ports without such lines are not.
  virtual void raise(const ModemLines& lines) = 0;

  // Speed and framing from now on. Errors: kLinkFailed (they cannot be had; it is set as before).
  virtual Result<Done> set(const SerialSettings& settings) = 0;

  // The port went away (an adapter that was pulled): found by any of the calls above. For good.
  [[nodiscard]] virtual bool gone() const = 0;
};

// The serial ports of one machine.
class SerialPorts {
 public:
  virtual ~SerialPorts() = default;

  // All that there are now, ordered by path. Opens none that could mind.
  virtual std::vector<SerialPortInfo> list() = 0;

  // The path that a name without a slash stands for: a device of this system, or a named
  // pseudo-terminal of ours; where it is neither, the name itself.
  virtual std::string path_of(const std::string& name) { return name; }

  // Two names of one port give the same text: symlinks are followed, "com5" is "COM5". A path that
  // leads nowhere comes out as it is.
  virtual std::string canonical(const std::string& path) = 0;

  // Errors: kBusy (says who has it, where that can be seen), kLinkFailed (there is no such port; it
  // is a file, a folder or another device; no right to open it, with the group that has; the speed
  // or the framing cannot be had on it).
  virtual Result<std::unique_ptr<SerialDevice>> open(Pacer& pacer, const std::string& path,
                                                     const SerialSettings& settings) = 0;
};

// Of this machine. Lives as long as the program.
SerialPorts& system_serial_ports();

}  // namespace understudy
