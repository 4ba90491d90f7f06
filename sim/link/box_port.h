// The port that a real box hangs on: this machine plays the computer towards it. What the box says
// comes out as events, each stamped once; what it shall hear goes in by write(). A pulled plug is
// noticed within 250 ms, and the box is opened again when it returns, under another name too. What
// the bytes mean is not known here.
#pragma once

#include <cstddef>
#include <cstdint>
#include <memory>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "sim/base/result.h"
#include "sim/link/pacer.h"
#include "sim/link/serial_device.h"
#include "sim/model/inputs.h"

namespace understudy {

struct BoxOptions {
  std::string port;  // as read_serial_place() takes it: a path, a name, usb:VID:PID[:SERIAL]
  SerialSettings settings;
  SerialPorts* ports = &system_serial_ports();  // outlives the box port
};

// The port went away; what was on its way to the box is dropped and counted.
struct BoxLost {
  friend bool operator==(const BoxLost&, const BoxLost&) = default;
};
// It is there again, set and with its lines raised as they were last asked for.
struct BoxBack {
  std::string where;
  friend bool operator==(const BoxBack&, const BoxBack&) = default;
};
// What the box drives, where the port has such lines: at the start, and at each change. Looked at
// five times a second.
struct BoxLines {
  SerialLines lines;
  friend bool operator==(const BoxLines&, const BoxLines&) = default;
};

struct BoxEvent {
  Instant at;  // a stamp: when read() had returned it
  std::variant<BoxBytes, BoxLost, BoxBack, BoxLines> what;
};

// Totals since it was opened.
struct BoxCounts {
  std::uint64_t bytes_from_box = 0;
  std::uint64_t bytes_to_box = 0;  // that the system took
  std::uint64_t dropped_full = 0;  // to the box: more than kBoxQueueBytesMax waited
  std::uint64_t dropped_gone = 0;  // to the box: it was not there, or went with them waiting
  std::uint64_t lost = 0;          // how often it went away
};

// So much waits here for a system that takes no more for the moment.
inline constexpr std::size_t kBoxQueueBytesMax = 4'096;

// Nothing here blocks. Thread: the pacer's, for all calls. Use, once per wake-up:
//
//   pacer.wait(earlier(due, box.look_again()), links);
//   box.read_events(pacer, events);
class BoxPort {
 public:
  ~BoxPort();
  BoxPort(const BoxPort&) = delete;
  BoxPort& operator=(const BoxPort&) = delete;

  // The box is there, as far as was seen.
  [[nodiscard]] bool there() const;
  [[nodiscard]] std::string where() const;  // the path; where it was, while it is away
  // "usb:1209:0001:SERIAL", or the path: by which it is known again.
  [[nodiscard]] std::string words() const;

  // Puts what happened since the last call at the end of `out`. Costs next to nothing where nothing
  // did. Bytes that were read in one go have one stamp.
  void read_events(Stamps& stamps, std::vector<BoxEvent>& out);
  // When read_events() is wanted even if nothing wakes the pacer.
  [[nodiscard]] Instant look_again() const;

  // Sends bytes to the box; gives how many were taken, by the system or the queue here. The rest,
  // all of it while the box is away, is dropped and counted.
  std::size_t write(std::string_view bytes);
  // How many bytes write() has room for; kBoxQueueBytesMax while the box is away.
  [[nodiscard]] std::size_t room() const;

  // Speed and framing from now on, also after the box was away. Errors: kLinkFailed (it cannot do
  // that; it is set as before).
  Result<Done> set(const SerialSettings& settings);
  [[nodiscard]] const SerialSettings& settings() const;
  // Our lines, raised when it is opened; kept while the box is away. On a pseudo-terminal they
  // reach a session of ours that plays the box, and nobody else.
  void raise_dtr(bool raised);
  void raise_rts(bool raised);
  void raise(const ModemLines& lines);  // both in one step

  [[nodiscard]] const BoxCounts& counts() const;
  // That it went away and that it is back, for people, each once.
  std::vector<std::string> take_notices();

 private:
  friend Result<std::unique_ptr<BoxPort>> open_box(Pacer& pacer, const BoxOptions& options);
  struct State;
  explicit BoxPort(std::unique_ptr<State> state);
  std::unique_ptr<State> state_;
};

// Errors: kUnusable (the name cannot be read), kBusy (who has it is told), kLinkFailed (not there,
// no right to, not a port, cannot do these settings).
Result<std::unique_ptr<BoxPort>> open_box(Pacer& pacer, const BoxOptions& options);

}  // namespace understudy
