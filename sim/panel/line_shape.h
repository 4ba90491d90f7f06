// One line of text taken apart for a first guess: what looks like a value, and the text between.
// What the values may be is learnt from many lines, in learn.h.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace understudy {

// A number or a word of a state, as written, with what its label seems to be.
struct SampleValue {
  std::string raw;  // "512", "-0.25", "DOWN"
  bool word = false;
  std::string label;  // "pot1" of `pot1=512`; "" where none stands before it
};

struct LineShape {
  std::vector<std::string> texts;  // one more than values: before, between and after them
  std::vector<SampleValue> values;

  // Equal for lines that differ in their values alone.
  [[nodiscard]] std::string key() const;
};

LineShape shape_of(std::string_view line);

// The two words of a state, such as UP and DOWN, in the case that `word` is written in; nothing for
// a word that says no state. `index` is the place of the word: 0 rests, 1 does not.
struct StatePair {
  std::string rests;
  std::string acts;
  int index = 0;
};
bool find_state_pair(std::string_view word, StatePair& pair);

}  // namespace understudy
