// What the game wants of a panel: once a frame the newest controls, and somewhere to show lamps.
// Three implementations: careful (how it should be done), naive (how most first attempts do it) and
// none (the keyboard alone).
#pragma once

#include <memory>
#include <string>

#include "scenarios/tram/game/rules/controls.h"
#include "scenarios/tram/game/rules/lamps.h"

namespace understudy::tram {

enum class PanelLink {
  absent,  // no port, or nothing behind it
  silent,  // the port is open, but no good line has come yet
  stale,   // lines came and have stopped: the hand may be anywhere by now
  fresh,
};

struct PanelReading {
  Controls controls = {};
  PanelLink link = PanelLink::absent;
  std::string trouble =
      {};  // why there is no connection, in the system's words; empty if there is one
  long good_lines = 0;
  long bad_lines = 0;
};

class PanelInput {
 public:
  // Ends the connection. A careful implementation turns all lamps off first.
  virtual ~PanelInput() = default;

  // Call once a frame.
  virtual PanelReading poll() = 0;
  virtual void show(const Lamps& lamps) = 0;
};

// `address`: a serial port's path or "host:port" with a numeric host.
std::unique_ptr<PanelInput> careful_panel(const std::string& address);
std::unique_ptr<PanelInput> naive_panel(const std::string& address);
std::unique_ptr<PanelInput> no_panel();

}  // namespace understudy::tram
