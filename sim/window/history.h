// What has passed in the session, as far as the areas show it: lines both ways, courses of values
// for charts, what was said and printed, lamps that flash. Fed once a frame; no ImGui, no clock.
#pragma once

#include <deque>
#include <memory>
#include <string>
#include <vector>

#include "sim/window/course.h"
#include "sim/window/feed.h"
#include "sim/window/flash_watch.h"
#include "sim/window/line_log.h"
#include "sim/window/session_view.h"
#include "sim/window/value_words.h"

namespace understudy {

inline constexpr std::size_t kWordsMax = 1'000;
inline constexpr std::size_t kGameLinesMax = 5'000;

// The course of one field: of lines to the game, or of what an output shows.
struct FieldCourse {
  std::string name;  // of the field
  FieldPlace place;
  Course course;
};

struct SeatHistory {
  explicit SeatHistory(const std::shared_ptr<const Panel>& panel);
  LineLog lines;
  std::shared_ptr<const Panel> panel;  // that `courses` are of
  std::vector<FieldCourse> courses;    // fields to the game, then those to the panel
  FlashWatch flashes;
  std::int64_t restarts = 0;    // of the board after power-on
  std::int64_t brown_outs = 0;  // of them, because the supply gave way
};

// A sentence, and when it was said.
struct SaidWord {
  Instant at;
  std::uint16_t seat = 0;
  std::string text;
  std::int64_t times = 1;  // in a row; `at` is the last
};
struct GameLineSeen {
  Instant at;
  bool error = false;
  std::string text;
};

// Who holds a link open, as looked up by an area; looking takes milliseconds.
struct HoldersSeen {
  std::string where;
  std::uint64_t opens = 0;  // of the link when it was looked up
  std::string words;
};

class History {
 public:
  History();
  ~History();
  // `view` is the newest; `portion` what passed since the last call.
  void take(const SessionView& view, FeedPortion portion);
  // What was kept is of another time.
  void begin_anew();

  // REQUIRES: take() was called with a view of that seat
  [[nodiscard]] SeatHistory& seat(std::size_t index);
  [[nodiscard]] const std::deque<SaidWord>& words() const;
  [[nodiscard]] const std::deque<GameLineSeen>& game_lines() const;
  // Items that the window was too slow for.
  [[nodiscard]] std::uint64_t lost() const;
  // Kept for the area of links.
  [[nodiscard]] std::vector<HoldersSeen>& holders();

 private:
  struct State;
  std::unique_ptr<State> state_;
};

// A note of the board as a sentence; empty for what is no news (the start at power-on).
std::string sentence_of(const Note& note, const Panel& panel);

}  // namespace understudy
