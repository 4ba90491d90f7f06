// A serial port that may go away and come back: opened by the name that a person gave, and known
// again by its identity, under another path too. What goes over it is not known here.
#pragma once

#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "sim/base/result.h"
#include "sim/link/pacer.h"
#include "sim/link/serial_device.h"
#include "sim/link/serial_place.h"

namespace understudy {

// Thread: the pacer's.
class ReturningPort {
 public:
  // `name`: as read_serial_place() takes it. `thing` begins sentences: "the port", "the box".
  ReturningPort(std::string name, std::string thing, SerialPorts& ports)
      : name_(std::move(name)), thing_(std::move(thing)), ports_(&ports) {}

  // For the first time. Errors: as SerialPorts::open; kUnusable (the name cannot be read).
  Result<std::unique_ptr<SerialDevice>> open(Pacer& pacer, const SerialSettings& settings);

  // The device that was opened is gone: says so, once.
  void went();

  // Opens it again where it is back, and says so; null: not yet. Call it a few times a second; what
  // stands in the way of a port that is back is said once, when it has for two seconds.
  std::unique_ptr<SerialDevice> look(Pacer& pacer, Instant now, const SerialSettings& settings);

  [[nodiscard]] const std::string& path() const { return path_; }
  // "usb:1209:0001:SERIAL", or the path. REQUIRES: it was open.
  [[nodiscard]] std::string words() const { return identity_->words(); }
  std::vector<std::string> take_notices() { return std::exchange(notices_, {}); }

 private:
  void know(const std::string& path);

  std::string name_;
  std::string thing_;
  SerialPorts* ports_;
  std::string path_;
  std::optional<SerialIdentity> identity_;
  std::optional<Instant> refused_since_;
  bool refusal_told_ = false;
  std::vector<std::string> notices_;
};

}  // namespace understudy
