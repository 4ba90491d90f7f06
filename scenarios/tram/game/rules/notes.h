// The short sentences that the game says to its driver, one at a time.
#pragma once

#include <string_view>

namespace understudy::tram {

enum class Note {
  none,
  welcome,
  no_stop_here,
  doors_first,
  not_yet,
  ready_to_leave,
  stop_missed,
  signal_passed,
  fright,
  too_fast,
  slipping,
  sand_gone,
  rail_brake,
  end_of_line,
};

// True for what costs points; shown in another colour.
bool is_warning(Note note);

std::string_view text_of(Note note);

}  // namespace understudy::tram
