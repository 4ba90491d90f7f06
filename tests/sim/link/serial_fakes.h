// Serial ports as a test wants them: what comes in, what the modem lines say, when one goes away.
#pragma once

#include <algorithm>
#include <map>
#include <memory>
#include <string>
#include <vector>

#include "sim/link/serial_device.h"

namespace understudy {

// One port, with both ends of its cable in the test's hands.
struct FakePort {
  SerialPortInfo info;
  std::string arrived;            // what the game sent and nobody has read
  std::string sent;               // what the link handed over
  std::size_t takes = 1'000'000;  // how many more bytes the system takes
  std::size_t unsent = 0;
  std::optional<SerialLines> lines;  // absent: the port has none
  int lines_asked = 0;
  bool raised = false;  // our DTR and RTS, both
  ModemLines modem;     // each of them
  bool is_open = false;
  SerialSettings settings;       // asked for last
  std::optional<Error> refusal;  // instead of being opened
};

class FakeDevice final : public SerialDevice {
 public:
  explicit FakeDevice(std::weak_ptr<FakePort> port) : port_(std::move(port)) {
    FakeDevice::raise({.dtr = true, .rts = true});
  }
  ~FakeDevice() override {
    FakeDevice::raise({});
    if (const auto port = port_.lock()) port->is_open = false;
  }
  bool ready() const override { return port_.expired() || !port_.lock()->arrived.empty(); }
  std::string read(std::size_t space) override {
    const auto port = port_.lock();
    gone_ = gone_ || !port;
    if (!port) return {};
    const std::string bytes = port->arrived.substr(0, space);
    port->arrived.erase(0, bytes.size());
    return bytes;
  }
  std::size_t write(std::string_view bytes) override {
    const auto port = port_.lock();
    gone_ = gone_ || !port;
    if (!port) return 0;
    const std::size_t taken = std::min(port->takes, bytes.size());
    port->takes -= taken;
    port->sent += bytes.substr(0, taken);
    return taken;
  }
  std::size_t unsent() override {
    const auto port = port_.lock();
    return port ? port->unsent : 0;
  }
  std::optional<SerialLines> lines() override {
    const auto port = port_.lock();
    gone_ = gone_ || !port;
    if (!port) return std::nullopt;
    ++port->lines_asked;
    return port->lines;
  }
  void raise(const ModemLines& lines) override {
    const auto port = port_.lock();
    if (!port) return;
    port->modem = lines;
    port->raised = lines.dtr && lines.rts;
  }
  Result<Done> set(const SerialSettings& settings) override {
    const auto port = port_.lock();
    gone_ = gone_ || !port;
    if (port && port->refusal) return *port->refusal;
    if (port) port->settings = settings;
    return Done{};
  }
  bool gone() const override { return gone_; }

 private:
  std::weak_ptr<FakePort> port_;
  bool gone_ = false;
};

class FakePorts final : public SerialPorts {
 public:
  std::map<std::string, std::string> links;  // names that lead to paths

  // Plugs a port in; with an empty serial number and maker unless told.
  FakePort& plug(const std::string& path, std::optional<UsbIdentity> usb = std::nullopt) {
    auto port = std::make_shared<FakePort>();
    port->info = {.path = path, .description = "a port", .usb = std::move(usb)};
    ports_[path] = port;
    return *port;
  }
  void pull(const std::string& path) { ports_.erase(path); }
  FakePort& at(const std::string& path) { return *ports_.at(path); }

  std::vector<SerialPortInfo> list() override {
    std::vector<SerialPortInfo> all;
    for (const auto& [path, port] : ports_) all.push_back(port->info);
    return all;
  }
  std::string canonical(const std::string& path) override {
    const auto link = links.find(path);
    return link != links.end() && ports_.contains(link->second) ? link->second : path;
  }
  Result<std::unique_ptr<SerialDevice>> open(Pacer&, const std::string& path,
                                             const SerialSettings& settings) override {
    const auto found = ports_.find(canonical(path));
    if (found == ports_.end()) return Error{ErrorCode::kLinkFailed, "there is no " + path};
    FakePort& port = *found->second;
    if (port.refusal) return *port.refusal;
    port.settings = settings;
    port.is_open = true;
    return std::unique_ptr<SerialDevice>(std::make_unique<FakeDevice>(found->second));
  }

 private:
  std::map<std::string, std::shared_ptr<FakePort>> ports_;
};

inline UsbIdentity usb_of(std::uint16_t vendor_id, std::uint16_t product_id,
                          const std::string& serial_number) {
  return {.vendor_id = vendor_id,
          .product_id = product_id,
          .maker = "Depot",
          .product = "Tram desk",
          .serial_number = serial_number};
}

}  // namespace understudy
