// What a panel file leaves out: the values before it is read, and what follows from the rest after
// it was read (pins given out, parts laid out, lines made up).
#pragma once

#include "sim/model/panel_description.h"

namespace understudy {

// Marks a value that follows from others and was not given.
inline constexpr std::int64_t kFollows = -1;

// What each table starts from. Some values are kFollows until complete() has seen to them.
PanelDescription fresh_panel();
ControlDescription fresh_control();
OutputDescription fresh_output();
AnswerDescription fresh_answer();

// Fills in all that follows: noise, source and middle of pots, what a pin reads where nothing is
// sent, pins, places, size of the face, lines. Doing it again changes nothing.
void complete(PanelDescription& panel);

// The line of all names (of what has several parts, NAME.part) with commas between, and the most
// bytes it can have.
std::string made_up_line(const PanelDescription& panel, bool to_game);
std::size_t made_up_line_bytes_max(const PanelDescription& panel, bool to_game);

}  // namespace understudy
