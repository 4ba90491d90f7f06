// A session's terminal: messages as lines, keys as hands, and a block at the foot that shows how it
// goes. Where there is no terminal, messages and hands are plain lines.
#pragma once

#include <memory>
#include <string>
#include <vector>

#include "sim/app/front.h"
#include "sim/app/hand_lines.h"
#include "sim/app/key_hands.h"
#include "sim/app/terminal.h"

namespace understudy {

// Thread: one.
class TerminalFront final : public Front {
 public:
  explicit TerminalFront(bool quiet) : quiet_(quiet) {}

  void attach(RunLoop& loop) override;
  void detach() override;
  [[nodiscard]] bool outlives_game() const override { return false; }
  [[nodiscard]] Instant next_wake() const override;
  void bring() override;
  void say(const Saying& saying) override;
  void say_of_game(const GameLine& line) override;
  void turned(const Turn* turn) override;
  void end() override;

 private:
  void swap_box();
  void show(bool at_once);

  bool quiet_;
  RunLoop* loop_ = nullptr;
  std::unique_ptr<Terminal> terminal_;
  std::unique_ptr<KeyHands> keys_;
  std::unique_ptr<BytesIn> keys_in_;
  std::unique_ptr<HandLines> lines_;
  Instant next_show_;
};

}  // namespace understudy
