// One controller as a description: every key of a panel file with its value. Plain data that the
// stages read; how a file becomes one is the panel folder's work.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "sim/base/ratio.h"
#include "sim/base/time.h"
#include "sim/model/control_description.h"
#include "sim/model/output_description.h"

namespace understudy {

// A set of pins that share a current limit, by whether the pins source or sink.
struct PortGroup {
  std::vector<std::string> pins;
  bool sinks = false;
  std::int64_t limit_ua = 0;
  friend bool operator==(const PortGroup&, const PortGroup&) = default;
};

// What happens to the board when the game raises DTR.
enum class DtrMeans : std::uint8_t { kRestarts, kOpensGate, kNothing };

struct BoardDescription {
  std::string preset;
  std::string chip;
  std::int64_t supply_uv = 5'000'000;
  std::int64_t reference_uv = 5'000'000;
  int adc_bits = 10;
  std::int64_t adc_clock_mhz = 125'000'000;  // thousandths of a hertz
  std::int64_t cpu_clock_mhz = 16'000'000'000;
  bool double_speed = true;                  // the UART samples 8 times a bit instead of 16
  Duration digital_read = {};                // cost of one digital reading
  Duration boot = {};                        // silence after a restart
  Duration boot_spread = {};                 // drawn evenly in [-spread, +spread]
  std::string boot_text;                     // what the chip itself sends first; empty: nothing
  std::int64_t boot_text_baud = 115'200;     // whatever the program speaks later
  Duration boot_disturbed = {};              // silence after each byte its loader gets; 0: none
  int print_ring_bytes = 64;                 // one place stays free
  int receive_ring_bytes = 64;
  std::int64_t pull_up_mohm = 35'000'000;
  std::int64_t hold_capacitor_ff = 14'000;   // sample and hold, femtofarads
  std::int64_t adc_series_mohm = 10'000'000;
  std::vector<std::string> analogue_pins;
  std::vector<std::string> digital_pins;
  std::vector<std::string> pwm_pins;
  std::vector<std::string> serial_pins;      // taken by the serial port
  bool phase_correct_pwm = false;
  std::int64_t pin_limit_ua = 0;
  std::int64_t pin_advised_ua = 0;
  std::int64_t chip_limit_ua = 0;
  std::int64_t supply_limit_ua = 0;          // what USB gives
  std::int64_t base_current_ua = 0;          // drawn with all lamps dark
  std::int64_t supply_resistance_mohm = 0;   // of cable and plug, both ways together
  std::int64_t brown_out_uv = 0;             // a supply below this restarts the chip; 0: never
  Duration brown_out_after = milliseconds(10);  // when it lasts so long
  std::vector<PortGroup> groups;
  friend bool operator==(const BoardDescription&, const BoardDescription&) = default;
};

enum class Gathering : std::uint8_t { kUntil, kAsItComes, kOneByteALoop };
enum class Parsing : std::uint8_t { kIntegersInARow, kWholeLine, kOneLetter, kBetweenMarkers };

// Memory that a program takes its texts from, and how it goes to pieces line by line.
struct HeapDescription {
  std::int64_t free_bytes = 0;  // in one piece at the start; 0: enough for ever
  std::int64_t lost_bytes = 1;  // of them, after so many lines each time
  std::int64_t lines = 100;
  friend bool operator==(const HeapDescription&, const HeapDescription&) = default;
};

struct MannersDescription {
  Duration loop = {};          // 0: free
  Duration work = {};          // what else one loop costs
  Gathering gather = Gathering::kAsItComes;
  std::string gather_until = "\n";
  Duration gather_at_most = {};
  Parsing parse = Parsing::kIntegersInARow;
  std::string hello;           // printed once after each start; empty: none
  HeapDescription heap;
  friend bool operator==(const MannersDescription&, const MannersDescription&) = default;
};

enum class WireKind : std::uint8_t { kUart, kNativeUsb };
enum class Parity : std::uint8_t { kNone, kEven, kOdd };

struct WireDescription {
  WireKind kind = WireKind::kUart;
  std::int64_t baud = 115'200;  // what the board's program asks for
  int data_bits = 8;
  Parity parity = Parity::kNone;
  int stop_bits = 1;
  std::int64_t board_clock_error_ppm = 0;  // fast; loop and baud, beside the divider's error
  std::int64_t host_clock_error_ppm = 0;
  friend bool operator==(const WireDescription&, const WireDescription&) = default;
};

enum class WhenFull : std::uint8_t { kDropsNewest, kHoldsTheBoard };

struct HostDescription {
  Duration flush = {};          // grid on which waiting bytes are handed over
  int chunk_bytes_max = 64;
  int buffer_bytes = 4'096;     // bytes the game has not taken yet
  int write_buffer_bytes = 2'048;  // bytes from the game on their way to the board
  WhenFull full = WhenFull::kDropsNewest;
  DtrMeans dtr = DtrMeans::kNothing;
  friend bool operator==(const HostDescription&, const HostDescription&) = default;
};

struct FramingDescription {
  std::string starts;
  std::string ends = "\n";
  std::vector<std::string> accepts;  // further accepted endings
  int longest_bytes = 256;
  friend bool operator==(const FramingDescription&, const FramingDescription&) = default;
};

enum class SendMode : std::uint8_t { kEveryLoop, kEvery, kOnChange, kAsked };

struct SendDescription {
  SendMode mode = SendMode::kEveryLoop;
  Duration every = {};
  std::int64_t change = 1;  // wire numbers
  Duration refresh = {};    // 0: none
  std::string asked;        // the line that asks
  friend bool operator==(const SendDescription&, const SendDescription&) = default;
};

// A check stands beside the text: how it is worked out and written after it.
struct LineCheckDescription {
  std::string kind;  // empty: none
  std::string covers = "text";
  std::string as = "*{HEX}";
  friend bool operator==(const LineCheckDescription&, const LineCheckDescription&) = default;
};

struct LineDescription {
  std::string text;
  std::vector<std::string> each;  // not empty: one format for each of these controls
  std::vector<std::int64_t> ids;  // what {#id} writes for each of them, as many as `each`
  SendDescription send;           // only to the game
  LineCheckDescription check;
  friend bool operator==(const LineDescription&, const LineDescription&) = default;
};

// What the game promises; read by tests and by the observer's pairs.
struct AnswerDescription {
  std::string when;
  std::string expect;
  Duration within = {};
  friend bool operator==(const AnswerDescription&, const AnswerDescription&) = default;
};

struct PanelDescription {
  std::string name;
  std::int64_t width_um = 0;
  std::int64_t height_um = 0;
  BoardDescription board;
  MannersDescription manners;
  WireDescription wire;
  HostDescription host;
  FramingDescription to_game;
  FramingDescription to_panel;
  MatrixDescription matrix;
  std::vector<ControlDescription> controls;
  std::vector<OutputDescription> outputs;
  std::vector<LineDescription> lines_to_game;
  std::vector<LineDescription> lines_to_panel;
  std::vector<AnswerDescription> answers;
  friend bool operator==(const PanelDescription&, const PanelDescription&) = default;
};

}  // namespace understudy
