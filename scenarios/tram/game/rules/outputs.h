// What the game shows on the desk: the next signal, the doors, the speed and the time that is left,
// as the six outputs of the panel. A pure function of the shift; sending them is the input's
// business.
#pragma once

namespace understudy::tram {

class Shift;

// In the order of the line to the panel.
struct Outputs {
  int signal_red = 0;  // lamps: 0 dark to 255 full
  int signal_amber = 0;
  int signal_green = 0;
  int door_lamp = 0;
  int speed_gauge = 0;  // km/h, 0 to 60
  int timetable = 0;    // minutes and seconds as one number: 130 is 1:30

  bool operator==(const Outputs&) const = default;
};

constexpr int kLampFull = 255;
constexpr int kGaugeTop_kmh = 60;

// The signal's lamp grows in three steps as the signal comes nearer, and is dark while fog hides
// the signal. No lamp ever blinks: light that flashes more than three times a second can harm
// people (WCAG 2.3.1), and a calm desk needs none at all.
// The digits count down to the departure that comes next; 0 when it is due or late.
Outputs outputs_for(const Shift& shift);

// 90 seconds as 130; part of a second counts as a whole one, what is not ahead as 0.
int minutes_and_seconds(double seconds);

}  // namespace understudy::tram
