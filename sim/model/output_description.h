// The outputs of a panel as described in its file: what each is made of and what it takes.
#pragma once

#include <array>
#include <cstdint>
#include <string>
#include <vector>

#include "sim/base/time.h"
#include "sim/model/control_description.h"

namespace understudy {

enum class OutputKind : std::uint8_t { kLamp, kRgb, kGauge, kBuzzer, kDigits };

// Three LEDs in one case: red, green, blue.
struct RgbPart {
  std::array<std::int64_t, 3> forward_uv = {2'000'000, 3'200'000, 3'200'000};
  std::array<std::int64_t, 3> resistor_mohm = {220'000, 220'000, 220'000};
  friend bool operator==(const RgbPart&, const RgbPart&) = default;
};

// A needle on a small servo.
struct GaugePart {
  std::int64_t sweep_mdeg = 180'000;       // from the least to the most, thousandths of a degree
  std::int64_t slew_mdeg_per_s = 500'000;  // at most so fast
  std::int64_t overshoot_ppm = 50'000;     // of a step, beyond its goal
  std::int64_t idle_ua = 8'000;
  std::int64_t moving_ua = 150'000;
  friend bool operator==(const GaugePart&, const GaugePart&) = default;
};

// A disc that sounds: with an oscillator of its own (on or off), or at the pitch that it is given.
struct BuzzerPart {
  bool pitched = false;  // the number is a frequency in hertz; 0: silent
  std::int64_t resonance_hz = 2'700;
  std::int64_t sounding_ua = 30'000;
  bool transistor = false;  // a transistor drives it, not the pin
  friend bool operator==(const BuzzerPart&, const BuzzerPart&) = default;
};

inline constexpr int kDigitsMax = 8;

// A row of seven-segment digits behind a driver that shows them one after the other.
struct DigitsPart {
  int count = 4;
  std::int64_t segment_ua = 5'000;  // of one lit segment, on average
  friend bool operator==(const DigitsPart&, const DigitsPart&) = default;
};

struct OutputDescription {
  std::string name;
  OutputKind kind = OutputKind::kLamp;
  std::vector<std::string> pins;  // as many as pins_needed()
  Sends sends;                    // wire number range the board takes, usually 0..255
  std::string colour = "red";
  std::int64_t resistor_mohm = 220'000;
  std::int64_t forward_uv = 2'000'000;  // of the LED
  bool active_low = false;              // LED to the supply: the pin sinks
  RgbPart rgb;
  GaugePart gauge;
  BuzzerPart buzzer;
  DigitsPart digits;
  Place place;
  friend bool operator==(const OutputDescription&, const OutputDescription&) = default;
};

}  // namespace understudy
