// How a person names a serial port, and how one that went away is known again.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "sim/base/result.h"
#include "sim/link/serial_device.h"

namespace understudy {

// What --serial and --box were given: a path or a name, or what a USB device says of itself.
struct SerialPlace {
  struct Usb {
    std::uint16_t vendor_id = 0;
    std::uint16_t product_id = 0;
    std::string serial_number;  // empty: any
  };
  std::string path;  // or a name without a slash; empty where `usb` is there
  std::optional<Usb> usb;
};

// "/dev/ttyUSB0", "usb:1209:0001" or "usb:1209:0001:SERIAL"; ids are hexadecimal, and all that
// stands after the third colon is the serial number. Errors: kUnusable.
Result<SerialPlace> read_serial_place(std::string_view text);

// "1209:0001": vendor and product, hexadecimal.
std::string usb_ids(const UsbIdentity& usb);

// The text that names this port by its USB device: "usb:1209:0001:SERIAL", or without its end where
// the device has no serial number.
std::string usb_words(const UsbIdentity& usb);

// "the serial ports here are /dev/ttyUSB0 (Tram desk) and /dev/ttyS0", or that there is none.
std::string told(std::span<const SerialPortInfo> ports);

// The path of the port that `place` names; a path is taken as it is. A name without a slash is the
// system's ("ttyUSB0"), that of a pseudo-terminal of ours (--pty NAME), or what exactly one USB
// device calls itself ("Tram desk"). Errors: kLinkFailed (no USB device or more than one that
// fits).
Result<std::string> find_serial_path(const SerialPlace& place, SerialPorts& ports);

// What tells a port from others when it comes back.
class SerialIdentity {
 public:
  // Of the port at `path`, which is there now.
  SerialIdentity(std::string path, SerialPorts& ports);

  // To be called when it went away: ports like it that are there still are others.
  void went(SerialPorts& ports);

  // Where it is now: at its old path, or where a USB device of the same ids and serial number has
  // come up since. A port without USB ids is known by its path alone.
  [[nodiscard]] std::optional<std::string> find(SerialPorts& ports) const;

  // "usb:1209:0001:SERIAL", or the path.
  [[nodiscard]] std::string words() const;

 private:
  [[nodiscard]] bool is_like(const SerialPortInfo& port) const;

  std::string path_;
  std::string first_;  // its canonical path when it was there
  std::optional<UsbIdentity> usb_;
  std::vector<std::string> others_;  // canonical paths
};

}  // namespace understudy
