// What a running session is shown by and asked through: a terminal or a window. The loop calls it
// at fixed points of each turn and knows nothing else of it.
#pragma once

#include <cstdint>
#include <optional>
#include <span>
#include <string>

#include "sim/base/time.h"
#include "sim/link/game_process.h"
#include "sim/session/session.h"

namespace understudy {

class RunLoop;

// A sentence for people.
struct Saying {
  std::string text;
  std::optional<std::uint16_t> seat = {};  // that it is about
  bool of_connection =
      false;  // the game came or went: a front that shows it anyhow need not say it
};

// What passed in one step; borrowed for the call.
struct Turn {
  std::span<const SeatInput> inputs;
  const SessionOutputs& outputs;
  Instant handed_over;  // the pacer's clock when the links had taken the chunks
};

// Thread: the loop's, for all calls. None may wait for anything.
class Front {
 public:
  virtual ~Front() = default;

  // Once, before links are opened.
  virtual void attach(RunLoop& loop) = 0;
  // Before the loop goes: gives up whatever hangs on its pacer. Nothing is called after it.
  virtual void detach() = 0;
  // The game's end is not the session's: it can be started again.
  [[nodiscard]] virtual bool outlives_game() const = 0;
  // When a turn is wanted even if nothing else asks for one.
  [[nodiscard]] virtual Instant next_wake() const = 0;

  // Before each step: gives hands and whatever else was wished to the loop.
  virtual void bring() = 0;
  virtual void say(const Saying& saying) = 0;
  virtual void say_of_game(const GameLine& line) = 0;
  // At the end of each turn; null where no time passed in it.
  virtual void turned(const Turn* turn) = 0;
  // The session is over. What is said from here on are the last words.
  virtual void end() = 0;
};

}  // namespace understudy
