// Ports as paragraphs and as JSON.
#include "sim/app/ports_text.h"

#include <algorithm>
#include <nlohmann/json.hpp>

#include "sim/base/text.h"
#include "sim/link/serial_place.h"

namespace understudy {
namespace {

using Json = nlohmann::ordered_json;

// Devices may say anything: a control character would reach the terminal.
std::string shown(const std::string& text) {
  const bool plain = std::none_of(text.begin(), text.end(), [](char c) {
    return static_cast<unsigned char>(c) < 0x20 || c == 0x7f;
  });
  // The control characters beyond ASCII, U+0080 to U+009F, begin with this byte.
  const bool quiet = text.find('\xc2') == std::string::npos;
  return plain && quiet && is_valid_utf8(text) ? text : printable(text);
}

// As one word of a POSIX shell.
std::string quoted(const std::string& word) {
  constexpr std::string_view kBare =
      "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789/:._-+,@";
  if (word.find_first_not_of(kBare) == std::string::npos) return word;
  std::string text = "'";
  for (const char c : word) text += c == '\'' ? std::string("'\\''") : std::string(1, c);
  return text + "'";
}

bool sayable(const std::string& text) {
  return shown(text) == text;
}

// The words that name this port and no other: its USB device's, else its path.
std::string words_for(const SerialPortInfo& port, std::span<const SerialPortInfo> ports) {
  if (!port.usb) return port.path;
  const std::string words = usb_words(*port.usb);
  const auto alike = std::count_if(ports.begin(), ports.end(), [&](const SerialPortInfo& other) {
    return other.usb && usb_words(*other.usb).starts_with(words);
  });
  return alike == 1 && sayable(words) ? words : port.path;
}

std::string row(std::string_view title, const std::string& text) {
  return "  " + std::string(title) + std::string(9 - title.size(), ' ') + text + "\n";
}

std::string paragraph(const SerialPortInfo& port, std::span<const SerialPortInfo> ports) {
  const std::string product = port.usb ? port.usb->product : "";
  const bool named = port.usb || !port.path.ends_with("/" + port.description);
  const std::string is = !product.empty() ? product
                         : named          ? port.description
                                          : "a port without USB";
  std::string text = port.path + "\n" + row("is", shown(is));
  if (port.usb) {
    const UsbIdentity& usb = *port.usb;
    if (!usb.maker.empty()) text += row("maker", shown(usb.maker));
    const std::string number =
        usb.serial_number.empty() ? "no serial number" : "serial number " + usb.serial_number;
    text += row("USB", usb_ids(usb) + ", " + shown(number));
  }
  const std::string words = words_for(port, ports);
  std::string type = "--serial " + quoted(words);
  if (words != port.path) type += ", or --serial " + quoted(port.path);
  text += row("type", type);
  if (port.usb && words == port.path) {
    text += row("", "(its USB ids do not tell it from another one)");
  }
  return text;
}

}  // namespace

std::string ports_text(std::span<const SerialPortInfo> ports) {
  if (ports.empty()) return "no serial port is here now; plug an adapter in and ask again\n";
  std::string text;
  for (const SerialPortInfo& port : ports) {
    text += (text.empty() ? "" : "\n") + paragraph(port, ports);
  }
  return text;
}

std::string ports_json(std::span<const SerialPortInfo> ports) {
  Json all = Json::array();
  for (const SerialPortInfo& port : ports) {
    Json usb;
    if (port.usb) {
      const std::string ids = usb_ids(*port.usb);
      usb = {
          {"vid", ids.substr(0, 4)},
          {"pid", ids.substr(5)},
          {"maker", port.usb->maker},
          {"product", port.usb->product},
          {"serial_number", port.usb->serial_number},
      };
    }
    all.push_back({
        {"path", port.path},
        {"description", port.description},
        {"type", words_for(port, ports)},
        {"usb", usb},
    });
  }
  return all.dump(2, ' ', false, Json::error_handler_t::replace) + "\n";
}

}  // namespace understudy
