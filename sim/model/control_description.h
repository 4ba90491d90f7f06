// The controls of a panel as described in its file: what each is made of and what it sends.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

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
  std::string hold;    // buttons, and what a stick presses
  std::string toggle;  // switches
  std::string more;    // pots, selectors, encoders; of a stick: to the right
  std::string less;
  std::string up;  // of a stick: its y to the high end
  std::string down;
  std::string gamepad;
  friend bool operator==(const HandKeys&, const HandKeys&) = default;
};

enum class ControlKind : std::uint8_t {
  kPot,
  kButton,
  kSwitch,
  kSelector,
  kStick,
  kEncoder,
  kSensor
};
enum class Taper : std::uint8_t { kLinear, kLog, kAntilog };
enum class Wiring : std::uint8_t { kPullUp, kPullDown };
enum class TravelShape : std::uint8_t { kSlide, kRotary };

// What a pot is made of; a stick has two of them. Shares are parts per million of the whole track.
struct PotPart {
  TravelShape shape = TravelShape::kRotary;
  std::int64_t travel = 280'000;  // micrometres of a slide, thousandths of a degree of a rotary
  Taper taper = Taper::kLinear;
  std::int64_t middle_ppm = 500'000;  // what a log taper gives at half travel
  std::int64_t resistance_mohm = 10'000'000;
  std::int64_t end_low_ppm = 0;   // of the track that the wiper never reaches at the low end
  std::int64_t end_high_ppm = 0;  // and at the high end
  std::int64_t load_mohm = 0;     // from the wiper to ground; 0: nothing loads it
  std::int64_t noise_uv = 0;      // RMS at the pin
  std::int64_t source_mohm = 0;   // impedance that the ADC sees at mid track
  friend bool operator==(const PotPart&, const PotPart&) = default;
};

// What a button, a switch, or any other contact is made of.
struct ContactPart {
  Wiring wired = Wiring::kPullUp;
  std::int64_t bounce_mean_ns = 0;  // 0: a perfect contact
  std::int64_t bounce_max_ns = 0;
  std::int64_t contact_mohm = 100;  // resistance when closed
  friend bool operator==(const ContactPart&, const ContactPart&) = default;
};

// A rotary switch: a pin for each place, one of which its contact closes.
struct SelectorPart {
  int places = 3;
  bool makes_first = false;  // closes the next contact before it opens the last
  bool keeps_in_gap = true;  // with none closed the program keeps the last place; else: the first
  friend bool operator==(const SelectorPart&, const SelectorPart&) = default;
};

// Two pots in a gimbal and a button under them. What its pots are made of is
// ControlDescription::pot.
struct StickPart {
  std::int64_t centre_x_ppm = 500'000;  // of the travel: where it springs back to
  std::int64_t centre_y_ppm = 500'000;
  bool springs = true;  // let go, it goes back there
  bool presses = true;  // it has the button
  Sends press_sends = {.low = 1, .high = 0, .decimals = 0, .words = {}, .given = false};
  friend bool operator==(const StickPart&, const StickPart&) = default;
};

// A quadrature encoder: two contacts a quarter of a pulse apart.
struct EncoderPart {
  int detents = 24;              // a turn
  int pulses = 24;               // a turn, of each contact
  bool interrupts = false;       // the program counts every edge; else it looks once a loop
  bool counts_quarters = false;  // it counts every edge as one; else whole detents
  Sends step_sends = {.low = -127, .high = 127, .decimals = 0, .words = {}, .given = true};
  friend bool operator==(const EncoderPart&, const EncoderPart&) = default;
};

// What a sensor measures over time. Shares are of its whole range.
enum class SensorCourse : std::uint8_t { kConstant, kSine, kWalk, kValues };

struct SensorPart {
  SensorCourse course = SensorCourse::kConstant;
  std::int64_t level_ppm = 500'000;  // where it stays, the middle of a sine, the start of a walk
  std::int64_t swing_ppm = 250'000;  // of a sine to either side
  Duration period = seconds(60);     // of a sine
  std::int64_t step_ppm = 5'000;     // of a walk at each `every`, root mean square
  Duration every = seconds(1);       // between the steps of a walk, or the values
  std::vector<std::int64_t> values_ppm = {};  // one after the other, over again at the end
  std::string file = {};                 // where the values came from; empty: from the panel itself
  friend bool operator==(const SensorPart&, const SensorPart&) = default;
};

// Its place in the panel's matrix of buttons.
struct MatrixCell {
  int row = -1;  // -1: wired to a pin of its own
  int column = -1;
  [[nodiscard]] bool given() const { return row >= 0; }
  friend bool operator==(const MatrixCell&, const MatrixCell&) = default;
};

struct ControlDescription {
  std::string name;
  ControlKind kind = ControlKind::kPot;
  std::vector<std::string> pins;  // as many as pins_needed(); "": none was left to give out
  Sends sends;                    // of a stick: of both ways; of an encoder: its count
  PotPart pot;
  ContactPart contact;
  SelectorPart selector;
  StickPart stick;
  EncoderPart encoder;
  SensorPart sensor;
  MatrixCell cell;
  // Where it lies at power-on: 0 low end or up, 1'000'000 high end or down. A stick that springs
  // lies at its centre.
  std::int64_t rest_ppm = 0;
  Place place;
  HandKeys keys;
  friend bool operator==(const ControlDescription&, const ControlDescription&) = default;
};

// Buttons at the crossings of rows and columns; the program drives one column after the other and
// reads the rows. A button names its cell.
struct MatrixDescription {
  std::vector<std::string> row_pins;
  std::vector<std::string> column_pins;
  bool diodes = true;  // without, three buttons that are down make a fourth seem so
  friend bool operator==(const MatrixDescription&, const MatrixDescription&) = default;
};
inline constexpr std::size_t kMatrixLinesMax = 16;

}  // namespace understudy
