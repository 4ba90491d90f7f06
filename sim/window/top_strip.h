// The quiet line at the top: the panel's name, how the game is connected, and what can be done, as
// plain words.
#pragma once

#include <string>

#include "sim/window/areas.h"
#include "sim/window/layout.h"

namespace understudy {

// What the person asked for by a word of the strip; the window does it.
struct StripOrders {
  bool open = false;     // another panel
  bool edit = false;     // begin or end editing
  bool compact = false;  // the face alone
  bool on_top = false;   // the other way round
  bool beside = false;   // areas beside the face, the other way round
};

struct StripState {
  bool editing = false;
  bool on_top = false;
  bool beside = true;  // areas lie beside the face
  bool files = true;   // a panel file can be opened and edited
};

StripOrders draw_strip(AreaContext& context, const Box& box, const StripState& state);

// A word of a menu; true when it was chosen.
bool menu_word(const char* label, bool chosen = false);
// The same as words in a menu, in the current popup.
StripOrders draw_strip_menu(AreaContext& context, const StripState& state);

// "The game is connected by pty, 50 lines/s", "Waiting for a game at /dev/pts/5".
std::string connection_text(const SessionView& view, std::size_t seat);

}  // namespace understudy
