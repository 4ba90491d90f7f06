// Two sources: the set-up interface, which knows names and USB identities; and the list of device
// names, which knows ports that no driver of the usual class brought.
#include "sim/link/serial_list_windows.h"

#include <windows.h>
// Need what windows.h defines.
#include <devguid.h>
#include <setupapi.h>

#include <algorithm>
#include <charconv>

#include "sim/base/wide_text.h"

namespace understudy {
namespace {

constexpr std::string_view kNamespace = "\\\\.\\";

std::string upper(std::string_view text) {
  std::string changed(text);
  for (char& c : changed)
    if (c >= 'a' && c <= 'z') c = static_cast<char>(c - 'a' + 'A');
  return changed;
}

bool is_port_name(std::string_view name) {
  return name.size() > 3 && name.starts_with("COM") &&
         name.find_first_not_of("0123456789", 3) == std::string_view::npos;
}

// A text that the system holds about a device; empty where it holds none.
std::string property(HDEVINFO devices, SP_DEVINFO_DATA& device, DWORD which) {
  wchar_t text[512] = {};
  SetupDiGetDeviceRegistryPropertyW(devices, &device, which, nullptr, reinterpret_cast<BYTE*>(text),
                                    sizeof text - sizeof *text, nullptr);
  return narrow_text(text);
}

std::string port_name(HDEVINFO devices, SP_DEVINFO_DATA& device) {
  const HKEY key = SetupDiOpenDevRegKey(devices, &device, DICS_FLAG_GLOBAL, 0, DIREG_DEV, KEY_READ);
  if (key == INVALID_HANDLE_VALUE) return "";
  wchar_t text[256] = {};
  DWORD size = sizeof text - sizeof *text;
  RegQueryValueExW(key, L"PortName", nullptr, nullptr, reinterpret_cast<BYTE*>(text), &size);
  RegCloseKey(key);
  return upper(narrow_text(text));
}

// Four hexadecimal digits behind `mark`.
bool read_id(const std::string& text, std::string_view mark, std::uint16_t& into) {
  const std::size_t at = text.find(mark);
  if (at == std::string::npos) return false;
  const char* digits = text.data() + at + mark.size();
  return std::from_chars(digits, std::min(digits + 4, text.data() + text.size()), into, 16).ec ==
         std::errc();
}

// "USB\VID_1209&PID_0001\SERIAL" is how the system names a USB device. A last part with an
// ampersand was made up by the system, as the device has no serial number.
std::optional<UsbIdentity> usb_identity(HDEVINFO devices, SP_DEVINFO_DATA& device) {
  wchar_t name[512] = {};
  if (!SetupDiGetDeviceInstanceIdW(devices, &device, name, 512, nullptr)) return std::nullopt;
  const std::string text = upper(narrow_text(name));
  UsbIdentity usb;
  if (!read_id(text, "VID_", usb.vendor_id) || !read_id(text, "PID_", usb.product_id))
    return std::nullopt;
  const std::string last = narrow_text(name).substr(text.rfind('\\') + 1);
  if (last.find('&') == std::string::npos) usb.serial_number = last;
  usb.maker = property(devices, device, SPDRP_MFG);
  usb.product = property(devices, device, SPDRP_DEVICEDESC);
  return usb;
}

void add_set_up_ports(std::vector<SerialPortInfo>& ports) {
  const GUID kind = GUID_DEVCLASS_PORTS;
  const HDEVINFO devices = SetupDiGetClassDevsW(&kind, nullptr, nullptr, DIGCF_PRESENT);
  if (devices == INVALID_HANDLE_VALUE) return;
  SP_DEVINFO_DATA device{};
  device.cbSize = sizeof device;
  for (DWORD i = 0; SetupDiEnumDeviceInfo(devices, i, &device); ++i) {
    const std::string name = port_name(devices, device);
    if (!is_port_name(name)) continue;  // a printer's
    const std::string friendly = property(devices, device, SPDRP_FRIENDLYNAME);
    ports.push_back({.path = name,
                     .description = friendly.empty() ? name : friendly,
                     .usb = usb_identity(devices, device)});
  }
  SetupDiDestroyDeviceInfoList(devices);
}

void add_named_ports(std::vector<SerialPortInfo>& ports) {
  std::vector<wchar_t> names(65'536);
  const DWORD size = QueryDosDeviceW(nullptr, names.data(), static_cast<DWORD>(names.size()));
  if (size == 0) return;
  for (const wchar_t* one = names.data(); *one != L'\0'; one += wcslen(one) + 1) {
    const std::string name = upper(narrow_text(one));
    const bool known = std::any_of(ports.begin(), ports.end(),
                                   [&](const SerialPortInfo& port) { return port.path == name; });
    if (is_port_name(name) && !known)
      ports.push_back({.path = name, .description = name, .usb = std::nullopt});
  }
}

}  // namespace

std::string port_name_of(std::string_view path) {
  std::string_view bare = path;
  if (bare.starts_with(kNamespace)) bare.remove_prefix(kNamespace.size());
  if (bare.ends_with(':')) bare.remove_suffix(1);
  const std::string name = upper(bare);
  return is_port_name(name) ? name : std::string(path);
}

std::vector<SerialPortInfo> list_windows_ports() {
  std::vector<SerialPortInfo> ports;
  add_set_up_ports(ports);
  add_named_ports(ports);
  std::sort(ports.begin(), ports.end(), [](const SerialPortInfo& a, const SerialPortInfo& b) {
    return a.path.size() != b.path.size() ? a.path.size() < b.path.size() : a.path < b.path;
  });
  return ports;
}

}  // namespace understudy
