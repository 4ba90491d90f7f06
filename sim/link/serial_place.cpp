// Names of serial ports: read, written, looked up.
#include "sim/link/serial_place.h"

#include <algorithm>
#include <charconv>

namespace understudy {
namespace {

constexpr std::string_view kUsb = "usb:";

std::string four_digits(std::uint16_t number) {
  std::string text(4, '0');
  for (std::size_t i = 4; i-- > 0; number = static_cast<std::uint16_t>(number >> 4)) {
    text[i] = "0123456789abcdef"[number & 15];
  }
  return text;
}

// The front of `rest` up to the next colon, as a hexadecimal number; both are taken off.
std::optional<std::uint16_t> take_id(std::string_view& rest) {
  const std::size_t colon = std::min(rest.find(':'), rest.size());
  const std::string_view digits = rest.substr(0, colon);
  std::uint16_t id = 0;
  const auto [end, problem] = std::from_chars(digits.data(), digits.data() + colon, id, 16);
  if (problem != std::errc() || end != digits.data() + colon || colon > 4) return std::nullopt;
  rest.remove_prefix(std::min(colon + 1, rest.size()));
  return id;
}

bool fits(const SerialPortInfo& port, const SerialPlace::Usb& wanted) {
  return port.usb && port.usb->vendor_id == wanted.vendor_id &&
         port.usb->product_id == wanted.product_id &&
         (wanted.serial_number.empty() || port.usb->serial_number == wanted.serial_number);
}

// A name without a slash: the port's own, or else what its device calls itself.
Result<std::string> path_of_name(const std::string& name, std::span<const SerialPortInfo> all,
                                 SerialPorts& ports) {
  const std::string path = ports.path_of(name);
  if (path != name) return path;
  std::vector<SerialPortInfo> fitting;
  for (const SerialPortInfo& port : all)
    if (port.path != name && port.usb && port.usb->product == name) fitting.push_back(port);
  if (fitting.size() > 1)
    return Error{ErrorCode::kLinkFailed,
                 std::to_string(fitting.size()) + " serial ports call themselves '" + name +
                     "': " + told(fitting) + "; give one of these names or a path"};
  return fitting.empty() ? name : fitting.front().path;
}

std::string written(const SerialPlace::Usb& usb) {
  return usb_words({.vendor_id = usb.vendor_id,
                    .product_id = usb.product_id,
                    .maker = "",
                    .product = "",
                    .serial_number = usb.serial_number});
}

}  // namespace

std::string written(const SerialSettings& settings) {
  return std::to_string(settings.baud) + " " + std::to_string(settings.data_bits) +
         "NEO"[static_cast<std::size_t>(settings.parity)] + std::to_string(settings.stop_bits);
}

Result<SerialPlace> read_serial_place(std::string_view text) {
  if (text.empty()) {
    return Error{ErrorCode::kUnusable,
                 "an empty name is no serial port; 'understudy ports' lists those that are here"};
  }
  if (!text.starts_with(kUsb)) return SerialPlace{.path = std::string(text), .usb = std::nullopt};
  std::string_view rest = text.substr(kUsb.size());
  const std::optional<std::uint16_t> vendor_id = take_id(rest);
  const std::optional<std::uint16_t> product_id = take_id(rest);
  if (!vendor_id || !product_id) {
    return Error{ErrorCode::kUnusable, "cannot read '" + std::string(text) +
                                           "' as a USB device: usb:VID:PID or usb:VID:PID:SERIAL "
                                           "is needed, with ids of up to four hexadecimal digits "
                                           "such as usb:1209:0001; 'understudy ports' shows them"};
  }
  return SerialPlace{.path = "",
                     .usb = SerialPlace::Usb{*vendor_id, *product_id, std::string(rest)}};
}

std::string usb_ids(const UsbIdentity& usb) {
  return four_digits(usb.vendor_id) + ":" + four_digits(usb.product_id);
}

std::string usb_words(const UsbIdentity& usb) {
  const std::string ids = std::string(kUsb) + usb_ids(usb);
  return usb.serial_number.empty() ? ids : ids + ":" + usb.serial_number;
}

std::string told(std::span<const SerialPortInfo> ports) {
  if (ports.empty()) return "no serial port is here now";
  std::string text = ports.size() == 1 ? "the only serial port here is " : "the ports here are ";
  for (std::size_t i = 0; i < ports.size(); ++i) {
    if (i > 0) text += i + 1 == ports.size() ? " and " : ", ";
    text += ports[i].path;
    if (ports[i].usb) text += " (" + usb_words(*ports[i].usb) + ")";
  }
  return text;
}

Result<std::string> find_serial_path(const SerialPlace& place, SerialPorts& ports) {
  if (!place.usb && place.path.find_first_of("/\\") != std::string::npos) return place.path;
  const std::vector<SerialPortInfo> all = ports.list();
  if (!place.usb) return path_of_name(place.path, all, ports);
  std::vector<SerialPortInfo> fitting;
  for (const SerialPortInfo& port : all) {
    if (fits(port, *place.usb)) fitting.push_back(port);
  }
  if (fitting.size() == 1) return fitting.front().path;
  const std::string wanted = written(*place.usb);
  if (fitting.empty()) {
    return Error{ErrorCode::kLinkFailed, "no serial port is " + wanted + ": " + told(all)};
  }
  return Error{ErrorCode::kLinkFailed, std::to_string(fitting.size()) + " serial ports are " +
                                           wanted + ": " + told(fitting) +
                                           "; give the serial number too, or a path"};
}

SerialIdentity::SerialIdentity(std::string path, SerialPorts& ports)
    : path_(std::move(path)), first_(ports.canonical(path_)) {
  for (const SerialPortInfo& port : ports.list()) {
    if (ports.canonical(port.path) == first_) usb_ = port.usb;
  }
}

bool SerialIdentity::is_like(const SerialPortInfo& port) const {
  return usb_ && port.usb && port.usb->vendor_id == usb_->vendor_id &&
         port.usb->product_id == usb_->product_id && port.usb->serial_number == usb_->serial_number;
}

void SerialIdentity::went(SerialPorts& ports) {
  others_.clear();
  if (!usb_) return;
  // Its own name may stand in the list for a moment still.
  for (const SerialPortInfo& port : ports.list()) {
    const std::string there = ports.canonical(port.path);
    if (is_like(port) && there != first_) others_.push_back(there);
  }
}

std::optional<std::string> SerialIdentity::find(SerialPorts& ports) const {
  if (!usb_) return path_;
  const std::string own = ports.canonical(path_);
  std::optional<std::string> elsewhere;
  for (const SerialPortInfo& port : ports.list()) {
    if (!is_like(port)) continue;
    const std::string there = ports.canonical(port.path);
    if (there == own) return path_;
    if (std::find(others_.begin(), others_.end(), there) == others_.end()) elsewhere = port.path;
  }
  return elsewhere;
}

std::string SerialIdentity::words() const {
  return usb_ ? usb_words(*usb_) : path_;
}

}  // namespace understudy
