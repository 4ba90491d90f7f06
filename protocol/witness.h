// The witness line: what a game says about itself to whoever tests it,
//   #seen AGE BACKLOG STATE VALUES...
// AGE: ms since the newest good line; BACKLOG: bytes that came and were not taken, as far as the
// game knows; STATE: a word of the game's own; VALUES: the numbers it acts on. The readers of
// protocol/readers write it a few times a second, to a panel of ours alone. It is no part of any
// panel's lines: the sieve takes it out of what goes to a board. Who learns from it is left to
// others.
#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace understudy::protocol {

struct Witness {
  std::int64_t age_ms = 0;
  std::int64_t backlog_bytes = 0;
  std::string_view state;  // into the line that was read
  std::vector<double> values;
};

// Reads a line without its end. Nothing: it is no witness line, or a damaged one.
std::optional<Witness> read_witness(std::string_view line);

// Parts witness lines from the other bytes of a game, wherever in the stream they begin, since not
// every panel has lines. A value; bounded. Thread: one at a time.
class WitnessSieve {
 public:
  // Appends to `rest` all bytes that are not part of a witness line. Bytes that may be the
  // beginning of one are passed on at the end of `bytes`: nobody waits for what may not come. If
  // they were one, only its remaining part is taken out.
  void take(std::string_view bytes, std::string& rest);
  // The port was opened or closed: a line on its way is forgotten.
  void begin_anew();

  // How many bytes of a witness line have come that has no end yet; 0 is the state of a new sieve.
  [[nodiscard]] std::size_t on_the_way() const { return line_.size(); }
  // Whole ones so far, and the newest of them without its end.
  [[nodiscard]] std::uint64_t count() const { return count_; }
  [[nodiscard]] const std::string& newest() const { return newest_; }

 private:
  void take_byte(char byte, std::string& rest);

  std::string line_;        // a beginning or more of a witness line
  std::size_t passed_ = 0;  // how many of its first bytes were passed on
  std::string newest_;
  std::uint64_t count_ = 0;
};

}  // namespace understudy::protocol
