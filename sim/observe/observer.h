// The observer of a seat: sees only timed bytes and link events, both ways, and doesn't know where
// they come from, so that what it says of a virtual panel holds on a tap of a real box.
#pragma once

#include <cstdint>
#include <memory>
#include <string_view>

#include "sim/base/ring.h"
#include "sim/model/inputs.h"
#include "sim/model/panel.h"
#include "sim/observe/traffic.h"

namespace understudy {

// A regular value. Times handed in never go back.
class Observer {
 public:
  explicit Observer(std::shared_ptr<const Panel> panel);

  // Bytes handed to the game's computer.
  void to_game(Instant t, std::string_view bytes, const LineSink& sink = {});
  void to_panel(Instant t, std::string_view bytes, const LineSink& sink = {});
  // Opened, closed, line settings, modem lines, taken, slipped, a panel reloaded; hands are
  // ignored.
  void event(const Input& input);

  // What the lines are read by.
  [[nodiscard]] const std::shared_ptr<const Panel>& panel() const { return panel_; }
  [[nodiscard]] const Traffic& traffic_to_game() const { return to_game_; }
  [[nodiscard]] const Traffic& traffic_to_panel() const { return to_panel_; }
  [[nodiscard]] bool connected() const { return connected_; }
  [[nodiscard]] Instant connected_since() const { return connected_since_; }
  [[nodiscard]] std::int64_t opened_count() const { return opened_count_; }
  // How old the oldest byte is that the game has not taken; 0 when it has taken all.
  [[nodiscard]] Duration input_age(Instant now) const;
  // Bytes handed over and not taken.
  [[nodiscard]] std::int64_t unread_bytes() const { return handed_over_ - taken_; }
  // The link shows no reading: input_age() and unread_bytes() say nothing then.
  [[nodiscard]] bool takes_at_once() const { return takes_at_once_; }

 private:
  // Bytes up to `end` (counted since the port was opened) were handed over at `at`.
  struct Unread {
    Instant at;
    std::int64_t end = 0;
  };
  void forget_taken();
  void reload(std::shared_ptr<const Panel> panel);

  std::shared_ptr<const Panel> panel_;
  Traffic to_game_;
  Traffic to_panel_;
  Ring<Unread, 256> unread_;
  std::int64_t handed_over_ = 0;  // since the port was opened
  std::int64_t taken_ = 0;
  std::int64_t opened_count_ = 0;
  Instant connected_since_;
  bool connected_ = false;
  bool takes_at_once_ = false;
};

}  // namespace understudy
