// The driver's handle: turns the pot's wire number into power or brake.
//
//    0        30      472      552        1003  1023
//    |rail brake| brake  |coast |   power    |full|
//
// The dead zone hides a pot's noise and an off centre; full effort is reached a little before each
// end, since few pots send their whole range.
#pragma once

namespace understudy::tram {

struct Demand {
  double power = 0.0;       // 0 to 1, share of the full tractive effort
  double brake = 0.0;       // 0 to 1, share of the full service brake
  bool rail_brake = false;  // the magnets that grip the rail itself: for need only
};

// Any integer is accepted; what lies outside 0..1023 counts as the nearer end.
Demand read_handle(int wire_number);

// What the tram does by itself when nobody drives: a calm brake, about half of the full one.
Demand safe_brake();

}  // namespace understudy::tram
