// The states of the doors; see the drawing in doors.h.
#include "scenarios/tram/game/rules/doors.h"

#include <algorithm>

namespace understudy::tram {

void Doors::press() {
  switch (state_) {
    case DoorState::shut:
      wish_left_s_ = kWishLasts_s;
      break;
    case DoorState::opening:
    case DoorState::open:
      close_wish_ = true;
      break;
    case DoorState::closing:
      state_ = DoorState::opening;
      break;
  }
}

void Doors::advance(double seconds, int presses, bool may_open) {
  for (int count = 0; count < presses; ++count) press();
  const double travel = seconds / kDoorsMove_s;
  switch (state_) {
    case DoorState::shut:
      if (wished() && may_open) {
        *this = {};
        state_ = DoorState::opening;
      }
      wish_left_s_ = std::max(0.0, wish_left_s_ - seconds);
      break;
    case DoorState::opening:
      opening_share_ = std::min(1.0, opening_share_ + travel);
      if (opening_share_ >= 1.0) state_ = DoorState::open;
      break;
    case DoorState::open:
      open_for_s_ += seconds;
      if (close_wish_ && open_for_s_ >= kDoorsStayOpen_s) {
        close_wish_ = false;
        open_for_s_ = 0.0;
        state_ = DoorState::closing;
      }
      break;
    case DoorState::closing:
      opening_share_ = std::max(0.0, opening_share_ - travel);
      if (opening_share_ <= 0.0) *this = {};
      break;
  }
}

}  // namespace understudy::tram
