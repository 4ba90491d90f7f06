// What the panel folder knows of each kind of output: its words, its keys, what it takes, and a
// whole example. A new kind is one file keys_KIND.cpp with its row, and one line in the list of
// keys_output.cpp. Its parts in lines and its pins stand in sim/model/kinds.h, what it shows and
// draws in sim/board.
#pragma once

#include <span>
#include <string>
#include <string_view>

#include "sim/model/kinds.h"
#include "sim/panel/key_table.h"

namespace understudy {

// What may stand at `takes`, and what stands there where it is left out.
struct TakesRule {
  std::string_view type;  // "two numbers for dark and full, or words..."
  std::int64_t low = 0;
  std::int64_t high = 255;
  std::size_t words_min = 2;
  std::size_t words_max = 256;
};

struct OutputKindRow {
  OutputKind kind = OutputKind::kLamp;
  std::string_view one;      // "a lamp"
  std::string_view many;     // "lamps"
  std::string_view meaning;  // "an LED with a resistor"
  // A whole [[output]], for `explain`.
  std::string_view example;
  // Keys of keys_output.cpp that it has as well, separated by |.
  std::string_view has;
  TakesRule takes;
  std::string_view pins_are;  // what its pins are for, where it has several
  // Its own keys; null: it has only those of others. They are read before `takes`.
  std::span<const KeyOf<OutputDescription>> (*rows)() = nullptr;
};

// All kinds in the order of OutputKind.
std::span<const OutputKindRow> output_kinds();
const OutputKindRow& output_kind(OutputKind kind);

// The rows of the kinds; each in keys_KIND.cpp.
OutputKindRow lamp_kind();
OutputKindRow rgb_kind();
OutputKindRow gauge_kind();
OutputKindRow buzzer_kind();
OutputKindRow digits_kind();

}  // namespace understudy
