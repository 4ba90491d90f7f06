// What PanelFiles keeps; for panel_files.cpp, which keeps it up, and panel_files_card.cpp, which
// shows it.
#pragma once

#include <functional>
#include <string>
#include <utility>
#include <vector>

#include "sim/window/panel_files.h"
#include "sim/window/panel_reader.h"

namespace understudy {

struct PanelFiles::State {
  struct Seat {
    FileReport report;
    std::string path_of_view;
  };
  struct Opening {
    std::size_t seat = 0;
    std::uint64_t asked = 0;
  };
  explicit State(std::function<void()> wake) : reader(std::move(wake)) {}

  void follow_seats(const SessionView& view);
  void watch_again();
  void note_recent(const std::string& path);
  void take_opened(PanelReading reading, std::vector<Wish>& wishes);
  void take_watched(std::size_t seat, const PanelReading& reading, std::vector<Wish>& wishes);

  std::vector<Seat> seats;
  std::vector<std::string> recent;
  std::string refused;
  std::vector<PlacedMistake> refused_mistakes;
  Opening opening;
  bool begun = false;
  bool recent_changed = false;
  // What is typed to open another file, and what it could go on as.
  std::string typed;
  std::vector<std::string> completions;
  bool ask_focus = false;
  PanelReader reader;  // last: its thread ends before the rest goes
};

}  // namespace understudy
