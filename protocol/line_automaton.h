// The set of all lines that a format makes, as a small automaton over bytes: asked at compile time
// whether two formats share a line and whether a line can contain a marker.
// For the files of this folder; lines themselves are read by line_reader.cpp.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "protocol/line_format.h"

namespace understudy::protocol {

// Nondeterministic, without empty steps; one start, one end. The digits of a check count as any
// digits of that shape.
class LineAutomaton {
 public:
  explicit LineAutomaton(const LineFormat& format);

  // A shortest line that both make, or nothing.
  static std::optional<std::string> find_common_line(const LineAutomaton& one,
                                                     const LineAutomaton& other);

  // Looks for `marker` in each line followed by `ends`. Where `may_close` it may stand at the very
  // end of that. Returns how a line with the marker elsewhere begins, or nothing.
  std::optional<std::string> find_marker(std::string_view marker, std::string_view ends,
                                         bool may_close) const;

  // Whether some line begins so.
  bool can_begin_with(std::string_view bytes) const;

  // Whether some line begins with this byte.
  bool can_begin_with(unsigned char byte) const;

 private:
  using State = std::uint32_t;
  struct Edge {
    unsigned char low;
    unsigned char high;
    State to;
  };
  // Numbers of `digits` digits between low and high, written in `base` with zeros in front;
  // a point stands before the last `decimals` of them.
  struct Digits {
    std::uint64_t low;
    std::uint64_t high;
    int digits;
    int decimals;
    bool last_not_zero;
    Notation notation;
  };

  State add_state();
  void add_edge(State from, State to, unsigned char low, unsigned char high);
  void add_digit_edges(State from, State to, int low, int high, Notation notation);
  // Each returns the state after what it added, or ends in `to`.
  State add_text(State from, std::string_view text);
  void add_word(State from, State to, std::string_view word);
  void add_digits(State from, State to, const Digits& digits);
  void add_magnitudes(State from, State to, const LineItem& item, std::uint64_t low,
                      std::uint64_t high, int width);
  void add_number(State from, State to, const LineItem& item);
  State add_check(State from, const LineFormat& format);

  std::vector<std::vector<Edge>> states_;
  State end_ = 0;
};

}  // namespace understudy::protocol
