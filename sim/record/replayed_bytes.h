// One seat's recorded bytes on their way to a game once more: each at its recorded time. Lines that
// the panel sends only when asked wait for the asking.
#pragma once

#include <cstdint>
#include <deque>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "protocol/splitter.h"
#include "sim/base/time.h"
#include "sim/model/panel.h"

namespace understudy {

struct TimedPiece {
  Instant at;
  std::string bytes;
};

// All times are the session's. What is recorded is told in order, ahead of what is taken.
//
// A line that was asked for goes out when the game asks for it, as long after as it was recorded,
// but never before its recorded time; the oldest first. As on a board, two askings before an answer
// are one. It is never put into the middle of another line.
//
// Thread: one.
class ReplayedBytes {
 public:
  explicit ReplayedBytes(std::shared_ptr<const Panel> panel);

  // From the recording: what went to the game, and what the game said then.
  void recorded_to_game(Instant at, std::string_view bytes);
  void recorded_from_game(Instant at, std::string_view bytes);
  // Lines have the formats of another panel from here on.
  void recorded_panel(std::shared_ptr<const Panel> panel);
  // Nothing more comes of this round: a line without its end goes as it is.
  void recorded_end();

  // The game said this now. REQUIRES: at is not before the last take_due()
  void heard(Instant at, std::string_view bytes);

  [[nodiscard]] Instant next_due() const;
  // What is due by `until`, in order.
  void take_due(Instant until, std::vector<TimedPiece>& into);

  // Lines that were never asked for and had to make room.
  [[nodiscard]] std::int64_t never_asked() const { return never_asked_; }

 private:
  // Recorded bytes whose line has not been cut out yet.
  struct Uncut {
    Instant at;
    std::string bytes;
  };
  struct Ready {
    Instant at;
    std::string bytes;
    bool ends_line = false;
  };
  struct AskedLine {
    Instant at;      // when its last byte was handed over
    Duration after;  // the asking, as recorded
    std::string bytes;
  };
  // Of one format to the game.
  struct Asked {
    std::optional<Instant> recorded;  // asking that no recorded line has answered yet
    std::optional<Instant> now;       // the same of the game of now
    std::deque<AskedLine> lines;
  };
  using Askings = std::optional<Instant> Asked::*;

  void begin(std::shared_ptr<const Panel> panel);
  void cut_out(std::uint64_t end, bool ends_line, std::optional<std::size_t> asked);
  void note_askings(protocol::Splitter& splitter, Instant at, std::string_view bytes,
                    Askings which);
  void answer(Asked& asked);

  std::shared_ptr<const Panel> panel_;
  bool has_asked_ = false;
  protocol::Splitter to_game_;
  protocol::Splitter recorded_to_panel_;
  protocol::Splitter to_panel_;
  std::deque<Uncut> uncut_;
  std::uint64_t uncut_from_ = 0;    // where it begins in the stream that to_game_ counts
  std::vector<Asked> asked_;        // by format to the game
  std::deque<Ready> ready_;         // in order
  std::deque<TimedPiece> answers_;  // in order of time
  bool within_line_ = false;        // the last piece taken did not end its line
  std::int64_t never_asked_ = 0;
};

}  // namespace understudy
