// A panel file to begin with: what `new` has learnt or been told, and the commented text of it.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "sim/base/result.h"
#include "sim/base/time.h"
#include "sim/model/panel_description.h"

namespace understudy {

struct DraftControl {
  std::string name;
  ControlKind kind = ControlKind::kPot;
  std::int64_t low = 0;  // wire numbers: the ends of a pot; up and down of a contact
  std::int64_t high = 1023;
  int decimals = 0;
  std::vector<std::string> words;  // not empty: up and down
  std::string note;                // stands beside it as a comment
  bool perhaps_reversed = false;   // which of both numbers is up could not be seen
};

struct DraftOutput {
  std::string name;
  std::int64_t full = 255;
  std::string colour = "red";
};

struct DraftLine {
  bool to_game = true;
  std::string text;  // the template
  bool on_change = false;
  bool nmea_check = false;  // XOR as in NMEA 0183, written *HH
  std::string example;      // a line as it was seen
};

struct Draft {
  std::string title;   // for people
  std::string origin;  // "made from a line" and the like, for the comment at the top
  std::string preset = "bootloader-8bit";
  Duration loop = milliseconds(20);
  std::string hello;
  std::string to_game_starts;
  std::string to_game_ends = "\n";
  std::string to_panel_starts;
  std::string to_panel_ends = "\n";
  std::vector<DraftControl> controls;
  std::vector<DraftOutput> outputs;
  std::vector<DraftLine> lines;      // a direction without one has the line of the defaults
  std::vector<std::string> remarks;  // told to whoever made it, and comments at the end
};

// The commented file.
std::string draft_toml(const Draft& draft);

// How many parts of each kind, and how many there may be.
struct PartCounts {
  int pots = 0;
  int buttons = 0;
  int switches = 0;
  int selectors = 0;
  int sticks = 0;
  int encoders = 0;
  int sensors = 0;
  int lamps = 0;
};
inline constexpr PartCounts kPartCountsMax{.pots = 32,
                                           .buttons = 16,
                                           .switches = 16,
                                           .selectors = 8,
                                           .sticks = 8,
                                           .encoders = 8,
                                           .sensors = 8,
                                           .lamps = 32};

// Numbered parts and nothing else. Errors: kUnusable where all counts are 0, or
// there are more controls than a panel has (kControlsMax).
Result<Draft> draft_of_counts(const std::string& title, const PartCounts& counts);

// Lamps "lamp_1", "lamp_2"...; their colours alternate.
std::vector<DraftOutput> numbered_lamps(int count);

}  // namespace understudy
