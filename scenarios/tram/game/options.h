// The command line of tram-game.
#pragma once

#include <cstdint>
#include <optional>
#include <string>

#include "scenarios/tram/game/game.h"

namespace understudy::tram {

struct Options {
  std::string address;  // of the panel: a path or host:port; empty: the keyboard alone
  bool headless = false;
  bool naive = false;  // the reader of a first attempt
  bool right = false;  // the window lies in the right half of the display
  bool sound = false;
  Evening evening;
  double for_s = 0.0;  // ends by itself after this; 0: never
};

// Where `--port` is not given, the address comes from UNDERSTUDY_PORT, else UNDERSTUDY_TCP.
// Returns nothing when the program shall end at once, with `status` (0 after --help, 2 when an
// argument is wrong; the reason has been printed).
std::optional<Options> read_options(int count, char** arguments, int& status);

}  // namespace understudy::tram
