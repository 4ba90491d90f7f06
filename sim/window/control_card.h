// The index card of one part of the face: what it is, what it shows, its keys, and what can be done
// to it besides moving it by hand: wedge, ends and middle, gestures, words for the command line.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "sim/window/areas.h"
#include "sim/window/face.h"
#include "sim/window/gestures.h"
#include "sim/window/hands.h"

namespace understudy {

// "understudy hand 'bell press'": puts the control where it is now; of what springs back a press,
// of an encoder one click. Empty: no hand moves it.
std::string hand_command(const SessionView& view, std::size_t seat, std::uint16_t control);
// "Push button", "Slide potentiometer", "Lamp": its kind for people.
std::string kind_in_words(const PanelDescription& panel, const PartId& part);
// One row for each field that carries it: its part and "512, 2.50 V, 50 %".
struct CardValue {
  std::string part;  // "x"; empty: the whole
  std::string words;
};
std::vector<CardValue> card_values(const SeatView& seat, const PartId& part);

class ControlCard {
 public:
  // Both stay the caller's and outlive this.
  ControlCard(Hands& hands, Gestures& gestures) : hands_(hands), gestures_(gestures) {}

  // Within the frame's window: opens for what was clicked with the right button, or has the focus
  // when the Menu key is pressed, and draws what is open. True while a card is open. `seconds`: of
  // the clock that gestures are played by.
  bool draw(AreaContext& context, const Face& face, bool over_face, double seconds);

 private:
  void open(const PartId& part);
  void lay_beside(const Face& face, float unit) const;
  void draw_part(AreaContext& context);
  void draw_keys(const ControlDescription& control) const;
  void draw_moves(const ControlDescription& control);
  void draw_command(AreaContext& context) const;
  void draw_gesture(AreaContext& context, const ControlDescription& control);

  Hands& hands_;
  Gestures& gestures_;
  std::optional<PartId> part_;
  std::shared_ptr<const Panel> panel_;  // for which it is open
  std::uint16_t seat_ = 0;
  float every_ = 5;
  double seconds_ = 0;
  ImVec2 size_;  // as drawn last
};

}  // namespace understudy
