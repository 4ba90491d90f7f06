// A panel with one control of most kinds, hands at it, and what they wished. What they should wish
// is left to the tests.
#pragma once

#include <gtest/gtest.h>

#include "sim/panel/panel_file.h"
#include "sim/session/session.h"
#include "sim/window/hands.h"

namespace understudy {

enum : std::uint16_t { kPower, kBell, kDoors, kMode, kFocus, kLever, kCrane };

inline constexpr const char* kHandsPanel =
    "panel = \"Hands\"\n"
    "[[control]]\nname = \"power\"\nkind = \"pot\"\n"
    "keys = { more = \"W\", less = \"S\" }\n"
    "[[control]]\nname = \"bell\"\nkind = \"button\"\n"
    "keys = { hold = \"enter\" }\ngamepad = \"a\"\n"
    "[[control]]\nname = \"doors\"\nkind = \"switch\"\nkeys = { toggle = \"+\" }\n"
    "[[control]]\nname = \"mode\"\nkind = \"selector\"\nplaces = 4\n"
    "[[control]]\nname = \"focus\"\nkind = \"encoder\"\n"
    "[[control]]\nname = \"lever\"\nkind = \"stick\"\npresses = true\n"
    "keys = { more = \"right\", less = \"left\", hold = \"L\" }\ngamepad = \"left\"\n"
    "[[control]]\nname = \"crane\"\nkind = \"stick\"\nsprings = false\n"
    "keys = { more = \"D\", less = \"A\" }\n"
    "[[output]]\nname = \"lamp\"\nkind = \"lamp\"\n";

inline std::shared_ptr<const Panel> hands_panel(const std::string& text = kHandsPanel) {
  return parse_panel(text, "hands.panel.toml").value();
}

inline std::shared_ptr<const SessionView> hands_view(
    const std::vector<std::shared_ptr<const Panel>>& panels) {
  Session session(1);
  for (std::size_t i = 0; i < panels.size(); ++i)
    session.add_seat({.name = "seat" + std::to_string(i), .panel = panels[i]});
  SessionOutputs outputs;
  session.step(Instant{3'000'000'000}, {}, outputs);
  auto view = std::make_shared<SessionView>();
  view->now = session.now();
  for (std::size_t i = 0; i < panels.size(); ++i)
    view->seats.push_back({.name = "seat" + std::to_string(i),
                           .path = "hands.panel.toml",
                           .device = session.device(i),
                           .observer = session.observer(i),
                           .panel = panels[i],
                           .links = {}});
  return view;
}

class HandsBench : public testing::Test {
 protected:
  HandsBench() { hands.see(view, 0); }

  [[nodiscard]] Point middle(std::uint16_t control) const {
    return geometry_of(panel->description).parts[control].middle;
  }
  // Lets seconds pass and gives what was wished meanwhile.
  std::vector<HandWish> wished(double seconds = 0.016) {
    now_ += seconds;
    hands.advance(now_);
    std::vector<HandWish> found;
    for (const Wish& wish : hands.take_wishes()) found.push_back(std::get<HandWish>(wish));
    return found;
  }
  // Where the last wish for a part takes it.
  std::optional<std::int32_t> heading(std::uint16_t control, std::uint8_t part = 0,
                                      double seconds = 0.016) {
    std::optional<std::int32_t> last;
    for (const HandWish& wish : wished(seconds))
      if (wish.hands[0].action.control == control && wish.hands[0].action.part == part)
        last = wish.hands[0].action.to_ppm;
    return last;
  }

  std::shared_ptr<const Panel> panel = hands_panel();
  std::shared_ptr<const SessionView> view = hands_view({panel, panel});
  Hands hands;

 private:
  double now_ = 0;
};

}  // namespace understudy
