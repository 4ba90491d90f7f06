// The areas beside the face: one file each, and one row in areas.cpp. Which of them are open, how
// high they are and what was chosen in them is remembered by name.
#pragma once

#include <map>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "sim/window/history.h"
#include "sim/window/session_view.h"
#include "sim/window/style.h"
#include "sim/window/wishes.h"

namespace understudy {

// What stays from one run to the next, by name: "area.traffic.open" -> "1". Written by
// preferences.cpp; values are short texts without line feeds.
using Remembered = std::map<std::string, std::string, std::less<>>;

// "1" in Remembered: the person wants to see lamps as they are on average (FlashWatch::average), so
// that none flashes. Set in menus and on the card of cautions, obeyed
// by the face.
inline constexpr std::string_view kCalmLamps = "face.calm";

// What drawing an area sees and may do.
struct AreaContext {
  const SessionView& view;
  std::size_t seat = 0;  // the one on the face
  History& history;      // what has passed, for every seat
  const Typefaces& type;
  Remembered& remembered;
  std::vector<Wish>& wishes;   // put what the person wants at the end
  float unit = 1.0F;           // pixels of one unit of length: 1 at 96 dots an inch
  bool face_has_keys = false;  // arrows, Space and Enter are for what is chosen on the face
};

struct Area {
  std::string_view name;               // "traffic": in Remembered
  std::string_view heading;            // "Traffic": on its index card
  void (*draw)(AreaContext& context);  // into the current ImGui window, which has its size already
  float usual_height = 160;            // in units
  bool usually_open = true;
  // Whether there is anything to show at all; null: always. A game's output, only with a game.
  bool (*wanted)(const SessionView& view) = nullptr;
  // Whether it is what matters now: it then comes first, and usually more than twice as high; null:
  // never.
  bool (*first)(const SessionView& view, std::size_t seat) = nullptr;
};

// In the order in which they lie beside the face.
std::span<const Area> areas();

}  // namespace understudy
