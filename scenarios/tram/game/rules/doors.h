// The doors of the tram: one button opens and shuts them. A press while it is too early is noted as
// a wish and carried out at the stop, so that every press has a visible answer at once.
//
//   shut --wish, at a stop--> opening --> open --press--> closing --> shut
//                                ^-------------press---------'
#pragma once

namespace understudy::tram {

enum class DoorState { shut, opening, open, closing };

constexpr double kDoorsMove_s = 1.6;      // from shut to open, or back
constexpr double kWishLasts_s = 10.0;     // an unfulfilled wish is forgotten after this
constexpr double kDoorsStayOpen_s = 1.0;  // at least, so that nobody is caught by a double press

class Doors {
 public:
  // A press is taken before the doors move. `may_open`: the tram stands at a stop.
  void advance(double seconds, int presses, bool may_open);

  DoorState state() const { return state_; }
  bool shut() const { return state_ == DoorState::shut; }
  bool wished() const { return wish_left_s_ > 0.0; }
  double opening_share() const { return opening_share_; }  // 0 shut, 1 open

 private:
  void press();

  DoorState state_ = DoorState::shut;
  double opening_share_ = 0.0;
  double wish_left_s_ = 0.0;
  double open_for_s_ = 0.0;
  bool close_wish_ = false;
};

}  // namespace understudy::tram
