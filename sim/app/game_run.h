// The game behind `-- GAME ARGS` of a running session, and starting it again.
#pragma once

#include <functional>
#include <memory>
#include <optional>
#include <string>

#include "sim/link/game_process.h"

namespace understudy {

// Thread: the pacer's. The destructor ends a game that still runs, and waits for that.
class GameRun {
 public:
  explicit GameRun(Pacer& pacer) : pacer_(pacer) {}

  // What it is started with from now on; without words there is no game.
  void set(GameOptions options) { options_ = std::move(options); }
  // The panel file that the next one is told of.
  void set_panel(const std::string& path) { options_.panel = path; }
  [[nodiscard]] bool there() const { return !options_.words.empty(); }
  [[nodiscard]] std::string command() const;  // as typed, for people

  // Errors as GameProcess::start, and then it has ended(). REQUIRES: there(), and none runs.
  Result<Done> start();
  // Asks it to end, without waiting; `then_again`: and starts it once it is gone. Where none runs,
  // that is at the next look().
  void ask_to_end(bool then_again);

  // Runs, or its children do still.
  [[nodiscard]] bool running() const { return process_ != nullptr && !end_; }
  [[nodiscard]] std::int64_t pid() const { return running() ? process_->pid() : 0; }
  // How the last one ended, since it was started.
  [[nodiscard]] const std::optional<GameEnd>& end() const { return end_; }
  // The same in words, or why it could not be started: "ended with status 3", "was stopped".
  [[nodiscard]] std::string ended_words() const;
  // By itself with status 0, or because it was asked to.
  [[nodiscard]] bool ended_well() const { return end_ && (asked_ || end_->fine()); }

  // Looks what it wrote and whether it ended. True where it ended since the last look.
  bool look(const std::function<void(const GameLine&)>& tell);
  // After look(), where the session goes on without it: buries it with its children, and starts it
  // again where that was asked. Errors as start().
  Result<Done> go_on();
  // Ends it now, waits for that, and tells its last lines.
  void stop(const std::function<void(const GameLine&)>& tell);

 private:
  void tell_lines(const std::function<void(const GameLine&)>& tell);

  Pacer& pacer_;
  GameOptions options_;
  std::unique_ptr<GameProcess> process_;
  std::optional<GameEnd> end_;
  std::string start_error_;
  bool asked_ = false;
  bool again_ = false;
};

}  // namespace understudy
