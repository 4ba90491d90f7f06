// What each kind of control can be told to do, verb by verb. Who is meant and when it happens is
// read by hand_words.cpp.
#pragma once

#include <cstdint>
#include <functional>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "sim/base/time.h"
#include "sim/model/control_description.h"
#include "sim/model/inputs.h"

namespace understudy {

using Words = std::span<const std::string_view>;

// The control that was named, and the part of it, where one was named.
struct HandTarget {
  const ControlDescription* control = nullptr;
  std::optional<std::uint8_t> part;
  std::string_view written;                                // as it was named, without its seat
  std::function<std::int32_t(std::uint8_t part)> heading;  // where a part is going
};

// One part on its way; of what turns, how far.
struct HandMove {
  std::uint8_t part = 0;
  std::int32_t ppm = 0;
};

// What the verb asks for. Moves go together; `back` is where `for` takes them, empty where they
// stay.
struct HandRequest {
  std::vector<HandMove> moves;
  std::vector<HandMove> back;
  Duration duration = {};
  Curve curve = Curve::kMinimumJerk;  // where the duration is not 0
  Duration back_duration = {};
  std::optional<Duration> lasts;  // then it goes back
  std::string wrong;              // not empty: what could not be read, and what would be right
};

// Takes the verb and what belongs to it from the beginning of `words`. REQUIRES: words is not empty
HandRequest read_hand_verb(const HandTarget& target, Words& words);

// "a button", "an encoder".
std::string a_kind(const ControlDescription& control);

// What it can be told, as a sentence: "'bell' is a button: bell down|up|on|off, ...".
std::string hand_forms(const HandTarget& target);
// The same for all of a panel where no control is known yet.
std::string_view all_hand_forms();

// A time at the beginning of `words`, its unit apart or not: "120 ms" is one time. Nothing, and
// nothing taken, where there is none.
std::optional<Duration> take_time(Words& words);

}  // namespace understudy
