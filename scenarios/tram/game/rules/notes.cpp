// The words of notes.h.
#include "scenarios/tram/game/rules/notes.h"

namespace understudy::tram {

bool is_warning(Note note) {
  switch (note) {
    case Note::stop_missed:
    case Note::signal_passed:
    case Note::fright:
    case Note::too_fast:
    case Note::slipping:
    case Note::rail_brake:
      return true;
    default:
      return false;
  }
}

std::string_view text_of(Note note) {
  switch (note) {
    case Note::none:
      return "";
    case Note::welcome:
      return "Good evening. Open the doors, let people board, shut them, drive.";
    case Note::no_stop_here:
      return "Noted: the doors open at a stop, within 6 m of the mark.";
    case Note::doors_first:
      return "The doors are open: no power until they are shut.";
    case Note::not_yet:
      return "Everybody is aboard, but it is not time to leave yet.";
    case Note::ready_to_leave:
      return "Time to leave: shut the doors and go.";
    case Note::stop_missed:
      return "A stop was missed; people are looking after you.";
    case Note::signal_passed:
      return "That signal was red.";
    case Note::fright:
      return "Somebody had to jump: ring the bell earlier.";
    case Note::too_fast:
      return "Too fast for this stretch.";
    case Note::slipping:
      return "The wheels slip: ease the handle, give sand.";
    case Note::sand_gone:
      return "The sand boxes are empty.";
    case Note::rail_brake:
      return "Rail brake: everybody holds on tight.";
    case Note::end_of_line:
      return "End of the line. Thank you, and good night.";
  }
  return "";
}

}  // namespace understudy::tram
