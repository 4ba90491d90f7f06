// What the game shows on the desk: the next signal and the doors, as the four lamps of the panel.
// A pure function of the shift; sending them is the input's business.
#pragma once

namespace understudy::tram {

class Shift;

// 0 dark to 255 full, in the order of the line to the panel.
struct Lamps {
  int signal_red = 0;
  int signal_amber = 0;
  int signal_green = 0;
  int door_lamp = 0;

  bool operator==(const Lamps&) const = default;
};

constexpr int kLampFull = 255;

// The signal's lamp grows in three steps as the signal comes nearer. No lamp ever blinks: light
// that flashes more than three times a second can harm people, and a calm desk needs none at all.
Lamps lamps_for(const Shift& shift);

}  // namespace understudy::tram
