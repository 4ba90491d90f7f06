// Quantities as people write them: "20 ms", "220 ohm", "60 mm", "4.7k". Parsed without locale into
// whole numbers of the smallest unit used in the program, and written back the same way.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

#include "sim/base/time.h"

namespace understudy {

enum class Unit {
  kTime,        // ns, us, ms, s, min, h           -> nanoseconds
  kVoltage,     // uV, mV, V                       -> microvolts
  kResistance,  // ohm, kohm, Mohm (or 4.7k, 220)  -> milliohms
  kCurrent,     // uA, mA, A                       -> microamperes
  kLength,      // mm, cm                          -> micrometres
  kFrequency,   // Hz, kHz, MHz                    -> millihertz
  kShare,       // % (or a bare ratio such as 0.4) -> parts per million
};

// The quantity in the unit's smallest part, or nothing where the text is not one. Spaces between
// number and unit are free. Times need a unit; values beyond 2^62 are refused.
std::optional<std::int64_t> parse_quantity(std::string_view text, Unit unit);

// The shortest writing that parses back to the same value, such as "20 ms", "4.7 kohm", "2.5 V".
std::string write_quantity(std::int64_t value, Unit unit);

// "20 ms" -> Duration; nothing where the text is not a time.
std::optional<Duration> parse_duration(std::string_view text);
std::string write_duration(Duration d);

// What the unit is called in a sentence, with an example: "a time such as 20 ms".
std::string_view unit_example(Unit unit);

}  // namespace understudy
