// What `check` finds out about a panel, as data: pins, lamp currents, rates of both directions, the
// age of an input, and remarks. How it is shown is left to check_text.h and to the verb.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "sim/model/panel.h"

namespace understudy {

// kNote: so it is, and nothing is to be done while it works. kHint: worth knowing. kWarning: it
// works on the screen, but the box would not do as meant. kWrong: the box cannot be built so.
enum class Severity : std::uint8_t { kNote, kHint, kWarning, kWrong };

struct Remark {
  Severity severity = Severity::kHint;
  std::string about;   // "bell", "D3", "line to the game"
  std::string text;    // what is the case
  std::string remedy;  // what to do; may be empty
};

struct PinRow {
  std::string pin;  // empty: none was left, or it is read through the matrix
  std::string part;
  std::string kind;  // "pot", "button, pull-up", "stick, x", "lamp, dims"
};

// One lamp at full. Currents are worked out without the pin's own resistance, so they are the most.
struct LampRow {
  std::string name;
  std::string pin;
  std::string colour;
  bool sinks = false;
  std::int64_t forward_uv = 0;
  std::int64_t resistor_mohm = 0;
  std::int64_t current_ua = 0;
  // The next value of each series that keeps the pin at what is advised; 0 where the LED stays
  // dark.
  std::int64_t advised_e12_mohm = 0;
  std::int64_t advised_e24_mohm = 0;
};

// What another output draws at most, at full or while it moves.
struct DrawRow {
  std::string name;
  std::string kind;  // "gauge", "buzzer, by a transistor"
  std::string pin;   // that carries it; empty: it comes straight from the supply
  std::int64_t current_ua = 0;
};

struct GroupRow {
  std::vector<std::string> pins;
  bool sinks = false;
  std::int64_t used_ua = 0;
  std::int64_t limit_ua = 0;
};

// With every lamp lit and all else at work.
struct Currents {
  std::vector<LampRow> lamps;  // an rgb lamp is three
  std::vector<DrawRow> others;
  std::vector<GroupRow> groups;  // those that carry something
  std::int64_t chip_ua = 0;
  std::int64_t chip_limit_ua = 0;
  std::int64_t supply_ua = 0;  // with the board's own
  std::int64_t supply_limit_ua = 0;
  std::int64_t chip_uv = 0;  // what is left at the chip then
  bool gives_way = false;    // the board restarts then...
  int lamps_at_once = 0;     // ...unless no more of the lamps are lit than so many
};

struct LineRow {
  std::string text;            // the template
  std::string when;            // "every loop", "every 60 ms"...
  std::int64_t bytes_max = 0;  // with markers and check
  Duration interval = {};      // between two of them at the fastest; 0: the game asks
  Duration age_max = {};       // of what it carries when the game has it; 0: the game asks
};

struct Rates {
  std::vector<LineRow> to_game;
  std::vector<LineRow> to_panel;  // without interval and age: the game decides
  Duration loop = {};             // what one round really takes
  Duration reading = {};          // of which reading and work, at most
  std::int64_t wire_bytes_a_second = 0;
  std::int64_t to_game_bytes_a_second = 0;
  Duration age_max = {};                     // the worst of the lines to the game
  std::int64_t to_panel_lines_a_second = 0;  // that the wire can carry, of the longest
  std::int64_t baud_error_ppm = 0;           // of the chip's divider
};

struct CheckReport {
  std::string name;
  std::string file_name;
  std::string chip;
  std::int64_t supply_uv = 0;
  std::vector<PinRow> pins;
  Currents currents;
  std::int64_t pin_advised_ua = 0;
  std::int64_t pin_limit_ua = 0;
  Rates rates;
  std::vector<Remark> remarks;  // worst first

  [[nodiscard]] bool wrong() const;  // any remark of kWrong
};

// Never fails: what is wrong stands in the remarks.
CheckReport check(const Panel& panel);

// A time for remarks: in hundredths of a millisecond where it is longer than one.
std::string rounded(Duration d);

// The parts of it; each appends its remarks.
std::vector<PinRow> check_pins(const PanelDescription& panel, std::vector<Remark>& remarks);
Currents check_currents(const PanelDescription& panel, std::vector<Remark>& remarks);
Rates check_rates(const Panel& panel, std::vector<Remark>& remarks);
// `loop` is what one round really takes.
void check_controls(const PanelDescription& panel, Duration loop, std::vector<Remark>& remarks);
void check_outputs(const PanelDescription& panel, std::vector<Remark>& remarks);
void check_habits(const PanelDescription& panel, std::vector<Remark>& remarks);

}  // namespace understudy
