// Keys pressed in the terminal as hands: keys of the panel file, and arrows that move whichever
// control is chosen. A terminal tells no key's release, so a press is a short one that repeats keep
// up, and so is a push of a stick that springs back.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "sim/app/hand_queue.h"
#include "sim/app/status_text.h"

namespace understudy {

// Thread: one.
class KeyHands {
 public:
  explicit KeyHands(const Session& session);

  // What to show beside each control of each seat: "[B]", "[W more, S less]"; of a stick the keys
  // to the left, right, up, down, and its press: "[A D W S, Q]".
  [[nodiscard]] const std::vector<std::vector<std::string>>& names() const { return names_; }
  [[nodiscard]] const Selection& selection() const { return selection_; }
  [[nodiscard]] bool help() const { return help_; }

  // Takes bytes as the terminal sent them; hands go to the queue at `now`.
  void type(std::string_view bytes, const Session& session, Instant now, HandQueue& queue);

 private:
  void arrow(char direction, const Session& session, Instant now, HandQueue& queue);
  void letter(char key, const Session& session, Instant now, HandQueue& queue);
  // One step of a control, of a stick on its way `part`, up or down.
  void nudge(std::size_t control, std::uint8_t part, int step, const Session& session, Instant now,
             HandQueue& queue);
  void push_stick(const HandPlace& place, std::int32_t goal, const Session& session, Instant now,
                  HandQueue& queue);
  void press(std::size_t control, const Session& session, Instant now, HandQueue& queue);

  std::vector<std::vector<std::string>> names_;
  Selection selection_;
  bool help_ = false;
  std::string escape_;  // the beginning of a key that sends several bytes
};

}  // namespace understudy
