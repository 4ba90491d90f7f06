// One controller as a description: every key of a panel file with its value. Plain data that the
// stages read; how a file becomes one is the panel folder's work.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "sim/base/ratio.h"
#include "sim/base/time.h"

namespace understudy {

// How a state or position becomes a wire number: `low` at one end, `high` at the other (low may be
// the larger: reversed). With words, the wire number counts them: 0 is words[0].
struct Sends {
  std::int64_t low = 0;
  std::int64_t high = 1023;
  int decimals = 0;                // 2: wire number 53 is written 0.53
  std::vector<std::string> words;  // not empty: low = 0, high = words.size() - 1
  bool given = false;              // false: the line carries what the pin reads
  friend bool operator==(const Sends&, const Sends&) = default;
};

// Where a part sits on the face; not `placed`: laid out by the program.
struct Place {
  bool placed = false;
  std::int64_t x_um = 0;
  std::int64_t y_um = 0;
  friend bool operator==(const Place&, const Place&) = default;
};

// What moves a control besides the mouse: names of keys by scancode, of gamepad axes and buttons.
struct HandKeys {
  std::string hold;    // buttons
  std::string toggle;  // switches
  std::string more;    // pots
  std::string less;
  std::string gamepad;
  friend bool operator==(const HandKeys&, const HandKeys&) = default;
};

enum class ControlKind : std::uint8_t { kPot, kButton, kSwitch };
enum class Taper : std::uint8_t { kLinear, kLog, kAntilog };
enum class Wiring : std::uint8_t { kPullUp, kPullDown };
enum class TravelShape : std::uint8_t { kSlide, kRotary };

// What a pot is made of. Shares are parts per million of the whole track.
struct PotPart {
  TravelShape shape = TravelShape::kRotary;
  std::int64_t travel = 280'000;  // micrometres of a slide, thousandths of a degree of a rotary
  Taper taper = Taper::kLinear;
  std::int64_t middle_ppm = 500'000;  // what a log taper gives at half travel
  std::int64_t resistance_mohm = 10'000'000;
  std::int64_t end_low_ppm = 0;   // of the track that the wiper never reaches at the low end
  std::int64_t end_high_ppm = 0;  // and at the high end
  std::int64_t noise_uv = 0;      // RMS at the pin
  std::int64_t source_mohm = 0;   // impedance that the ADC sees at mid track
  friend bool operator==(const PotPart&, const PotPart&) = default;
};

// What a button or switch is made of.
struct ContactPart {
  Wiring wired = Wiring::kPullUp;
  std::int64_t bounce_mean_ns = 0;  // 0: a perfect contact
  std::int64_t bounce_max_ns = 0;
  std::int64_t contact_mohm = 100;  // resistance when closed
  friend bool operator==(const ContactPart&, const ContactPart&) = default;
};

struct ControlDescription {
  std::string name;
  ControlKind kind = ControlKind::kPot;
  std::string pin;
  Sends sends;
  PotPart pot;
  ContactPart contact;
  // Where it lies at power-on: 0 low end or up, 1'000'000 high end or down.
  std::int64_t rest_ppm = 0;
  Place place;
  HandKeys keys;
  friend bool operator==(const ControlDescription&, const ControlDescription&) = default;
};

enum class OutputKind : std::uint8_t { kLamp };

struct OutputDescription {
  std::string name;
  OutputKind kind = OutputKind::kLamp;
  std::string pin;
  Sends sends;                           // wire number range the board takes, usually 0..255
  std::string colour = "red";
  std::int64_t resistor_mohm = 220'000;
  std::int64_t forward_uv = 2'000'000;   // of the LED
  bool active_low = false;               // LED to the supply: the pin sinks
  Place place;
  friend bool operator==(const OutputDescription&, const OutputDescription&) = default;
};

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
  std::vector<PortGroup> groups;
  friend bool operator==(const BoardDescription&, const BoardDescription&) = default;
};

enum class Gathering : std::uint8_t { kUntil, kAsItComes, kOneByteALoop };
enum class Parsing : std::uint8_t { kIntegersInARow, kWholeLine, kOneLetter, kBetweenMarkers };

struct MannersDescription {
  Duration loop = {};          // 0: free
  Duration work = {};          // what else one loop costs
  Gathering gather = Gathering::kAsItComes;
  std::string gather_until = "\n";
  Duration gather_at_most = {};
  Parsing parse = Parsing::kIntegersInARow;
  std::string hello;           // printed once after each start; empty: none
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
  std::vector<ControlDescription> controls;
  std::vector<OutputDescription> outputs;
  std::vector<LineDescription> lines_to_game;
  std::vector<LineDescription> lines_to_panel;
  std::vector<AnswerDescription> answers;
  friend bool operator==(const PanelDescription&, const PanelDescription&) = default;
};

}  // namespace understudy
