// Asks libserialport, which reads /sys/class/tty. Some old platform ports it must open to see
// whether anything stands behind their names; USB adapters it does not.
#include "sim/link/serial_list_linux.h"

#include <libserialport.h>

#include <algorithm>

namespace understudy {
namespace {

std::string text_of(const char* text) {
  return text != nullptr ? text : "";
}

SerialPortInfo info_of(const sp_port* port) {
  SerialPortInfo info;
  info.path = text_of(sp_get_port_name(port));
  info.description = text_of(sp_get_port_description(port));
  if (info.description.empty()) info.description = info.path;
  int vendor_id = 0;
  int product_id = 0;
  if (sp_get_port_transport(port) == SP_TRANSPORT_USB &&
      sp_get_port_usb_vid_pid(port, &vendor_id, &product_id) == SP_OK) {
    info.usb = {.vendor_id = static_cast<std::uint16_t>(vendor_id),
                .product_id = static_cast<std::uint16_t>(product_id),
                .maker = text_of(sp_get_port_usb_manufacturer(port)),
                .product = text_of(sp_get_port_usb_product(port)),
                .serial_number = text_of(sp_get_port_usb_serial(port))};
  }
  return info;
}

// "/dev/ttyUSB9" stands before "/dev/ttyUSB10".
bool comes_before(const SerialPortInfo& a, const SerialPortInfo& b) {
  const std::size_t a_name = a.path.find_last_not_of("0123456789") + 1;
  const std::size_t b_name = b.path.find_last_not_of("0123456789") + 1;
  const int names = a.path.compare(0, a_name, b.path, 0, b_name);
  if (names != 0) return names < 0;
  if (a.path.size() != b.path.size()) return a.path.size() < b.path.size();
  return a.path < b.path;
}

}  // namespace

std::vector<SerialPortInfo> list_linux_ports() {
  std::vector<SerialPortInfo> all;
  sp_port** ports = nullptr;
  if (sp_list_ports(&ports) != SP_OK) return all;
  for (sp_port** port = ports; *port != nullptr; ++port) all.push_back(info_of(*port));
  sp_free_port_list(ports);
  std::sort(all.begin(), all.end(), comes_before);
  return all;
}

}  // namespace understudy
