// Who drives: panel, keyboard or nobody. Merges both into one set of controls.
//
//   The panel drives while its lines are fresh. A key that moves the handle takes over; the panel
//   takes back when its own handle is moved. Buttons of both always count.
//   Panel no longer fresh: nobody drives and nothing is held, until lines or a key come.
#pragma once

#include "scenarios/tram/game/input/keyboard.h"
#include "scenarios/tram/game/input/panel_input.h"

namespace understudy::tram {

enum class Driver { nobody, panel, keyboard };

struct DeskState {
  Controls controls;
  Driver driver = Driver::keyboard;
};

constexpr int kHandleMoved = 24;  // wire numbers; more than a noisy pot trembles

class Desk {
 public:
  // Call once a frame; `seconds` is the time since the last call.
  DeskState merge(const PanelReading& panel, Keyboard& keyboard, double seconds);

 private:
  void choose_driver(const PanelReading& panel, Keyboard& keyboard);

  Driver driver_ = Driver::keyboard;
  Controls last_fresh_;                    // what the panel said when it was last to be believed
  int panel_handle_then_ = kHandleMiddle;  // where its handle stood when the keyboard took over
  bool panel_was_here_ = false;
};

}  // namespace understudy::tram
