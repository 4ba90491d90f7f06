// The game that stands behind `-- GAME ARGS`: started in a process group of its own, its output
// read line by line, ended cleanly with all its children.
#pragma once

#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "sim/base/result.h"
#include "sim/link/pacer.h"

namespace understudy {

// One NAME=VALUE for a game's environment.
struct EnvironmentEntry {
  std::string name;
  std::string value;
  friend bool operator==(const EnvironmentEntry&, const EnvironmentEntry&) = default;
};

struct GameOptions {
  std::vector<std::string> words;  // GAME and its ARGS as typed
  std::string port;                // replaces {port}; UNDERSTUDY_PORT. Empty: no such link
  std::string host;                // replaces {host}
  std::string tcp;                 // replaces {tcp} (the port number); with host UNDERSTUDY_TCP
  std::string panel;               // UNDERSTUDY_PANEL: the panel file's path
  std::vector<EnvironmentEntry> environment;  // put on top, such as port_environment()
};

// How a game ended.
struct GameEnd {
  int status = 0;      // its exit status; 0 where a signal ended it
  std::string signal;  // "SIGSEGV" where one did, else empty
  [[nodiscard]] bool fine() const { return status == 0 && signal.empty(); }
};
// "ended with status 3", "was ended by SIGSEGV (a crash)".
std::string written(const GameEnd& end);

// A line that the game wrote, for showing with a prefix.
struct GameLine {
  bool error = false;  // from its standard error
  std::string text;
};

// Thread: the pacer's. The destructor stops a game that still runs.
class GameProcess {
 public:
  // Errors: kUnusable where GAME cannot be found or run (with the nearest remedy), or where a
  // {port}, {host} or {tcp} is asked for that is not open; kGameFailed where the system refuses.
  static Result<std::unique_ptr<GameProcess>> start(Pacer& pacer, const GameOptions& options);
  ~GameProcess();
  GameProcess(const GameProcess&) = delete;
  GameProcess& operator=(const GameProcess&) = delete;

  [[nodiscard]] std::int64_t pid() const;

  // Lines written since the last call. Once end() has a value, call it until it gives none.
  std::vector<GameLine> take_lines();

  // How it ended; nothing while it runs. Wakes the pacer when that changes.
  std::optional<GameEnd> end();

  // Ends the whole group: SIGTERM, and SIGKILL to what is left after 2 s. Blocks until then.
  GameEnd stop();

  // The same without waiting: SIGTERM now; SIGKILL comes out of end() and all_gone(), for which the
  // pacer is woken in time. Asking twice is asking once.
  void ask_to_end();
  // After ask_to_end(): the game and all that it started have ended, so stop() and the destructor
  // wait for nothing.
  bool all_gone();

 private:
  GameProcess();
  struct State;
  std::unique_ptr<State> state_;
};

}  // namespace understudy
