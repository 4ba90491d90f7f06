// What the game says about itself in words: the clock, the panel, who drives. The same on screen
// and in the lines of a headless run.
#pragma once

#include <string>

#include "scenarios/tram/game/game.h"

namespace understudy::tram {

// The night begins at 23:40; `seconds` of the shift as "23:41:07".
std::string clock_text(double seconds);
// "1:10 late", "0:05 early", "on time".
std::string lateness_text(double late_s);

std::string panel_text(const PanelReading& reading);
std::string driver_text(const Game& game);
std::string handle_text(const Game& game);
// "snow, leaves on the rail".
std::string weather_text(const Shift& shift);
// The number of the timetable output as the display shows it: 130 as "1:30".
std::string digits_text(int timetable);

// One calm line about everything, for people who watch a headless run.
std::string status_line(const Game& game);

}  // namespace understudy::tram
