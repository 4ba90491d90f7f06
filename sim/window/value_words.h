// What a wire number means, in words: counts, volts at the pin, share of the travel. For what
// stands under the pointer in a chart. Ratings and courses are others' work.
#pragma once

#include <cstdint>
#include <string>

#include "sim/model/panel.h"

namespace understudy {

// Which field of which direction.
struct FieldPlace {
  bool to_game = true;
  std::size_t field = 0;
};

// Each empty where it makes no sense for the part.
struct ValueWords {
  std::string counts;   // as the line carries it: "512", "0.53", "DOWN"
  std::string volts;    // "2.50 V" at the pin, on average where the pin is switched quickly
  std::string percent;  // "50 %" of the way from its least to its most
  // "512, 2.50 V, 50 %"
  [[nodiscard]] std::string together() const;
};
ValueWords value_words(const Panel& panel, FieldPlace place, double number);

// Just two states: drawn as a strip of two levels.
bool has_two_levels(const Panel& panel, FieldPlace place);

const protocol::Field& field_at(const Panel& panel, FieldPlace place);

}  // namespace understudy
