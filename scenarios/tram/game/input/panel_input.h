// What the game wants of a panel: once a frame the newest controls, and somewhere to show things.
// Three implementations: careful (how it should be done), naive (how most first attempts do it) and
// none (the keyboard alone).
#pragma once

#include <memory>
#include <string>

#include "scenarios/tram/game/rules/controls.h"
#include "scenarios/tram/game/rules/outputs.h"

namespace understudy::tram {

enum class PanelLink {
  absent,  // no port, or nothing behind it
  silent,  // the port is open, but no good line has come yet
  stale,   // lines came and have stopped: the hand may be anywhere by now
  fresh,
};

struct PanelReading {
  Controls controls = {};  // to be acted on only while the link is fresh
  PanelLink link = PanelLink::absent;
  std::string where = {};    // the address as it was given; empty: no panel was named
  std::string trouble = {};  // why there is no connection, in the system's words; empty: there is
  long good_lines = 0;
  long bad_lines = 0;
};

class PanelInput {
 public:
  // Ends the connection. A careful implementation darkens every output first.
  virtual ~PanelInput() = default;

  // Call once a frame, in this order. `doing`: a word for what the game is at, for tests that
  // listen in.
  virtual PanelReading poll() = 0;
  virtual void show(const Outputs& outputs, const char* doing) = 0;
};

// `address`: a serial port's path or "host:port" with a numeric host.
std::unique_ptr<PanelInput> careful_panel(const std::string& address);
std::unique_ptr<PanelInput> naive_panel(const std::string& address);
std::unique_ptr<PanelInput> no_panel();

}  // namespace understudy::tram
