// What the driver's desk says at one moment, in the desk's own wire numbers.
// Where the numbers come from (box, keyboard, nobody) is the input's business, not this file's.
#pragma once

namespace understudy::tram {

// A pot sends 0 to 1023; numbers outside are clamped where they are used, never trusted.
constexpr int kPotTop = 1023;
constexpr int kHandleMiddle = 512;

// Levels are what holds now. Press counts are how often a button went down since the step before,
// so that a press shorter than a frame is not lost.
struct Controls {
  int power = kHandleMiddle;
  int heater = 0;
  bool bell = false;
  bool sander = false;
  int bell_presses = 0;
  int door_presses = 0;
};

}  // namespace understudy::tram
