// A session in real time: waits with the pacer, carries inputs from links and hands into the
// session and chunks out of it to the links, records, and watches the game. How it is shown and
// asked is its front's work.
#pragma once

#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "sim/app/box_run.h"
#include "sim/app/front.h"
#include "sim/app/game_run.h"
#include "sim/app/hand_queue.h"
#include "sim/app/remarks.h"
#include "sim/app/serve_arguments.h"
#include "sim/link/hand_socket.h"
#include "sim/link/port_environment.h"
#include "sim/link/signals.h"
#include "sim/record/replay.h"

namespace understudy {

// What a loop plays: seats, and the recording that moves them, if one does.
struct RunPlan {
  std::vector<SeatPlan> seats;
  std::vector<SeatOptions> options;  // of the same seats
  std::unique_ptr<Replay> replay;    // null: none
};

// Thread: one at a time. make() and open() may run on another than run(), if threads are only
// started after make(), which holds back signals for all of them.
class RunLoop {
 public:
  // Reads the panels and prepares the session; nothing is open yet. `verb` stands in messages;
  // `front` must outlive the loop. Errors: kUnusable.
  static Result<std::unique_ptr<RunLoop>> make(std::string_view verb,
                                               const ServeArguments& arguments, Front& front);
  // The same for a plan made already; `arguments` says no panels. Errors: kUnusable.
  static Result<std::unique_ptr<RunLoop>> make(std::string_view verb,
                                               const ServeArguments& arguments, RunPlan plan,
                                               Front& front);

  ~RunLoop() { front_.detach(); }
  RunLoop(const RunLoop&) = delete;
  RunLoop& operator=(const RunLoop&) = delete;

  // Opens all links and begins the recording. Errors as those say.
  Result<Done> open();

  // Tells that it is ready, starts the game if there is one, and plays until the time is over, a
  // signal comes, somebody leaves, or the game ends where the front ends with it. Gives the exit
  // status. REQUIRES: open() went well.
  int run();

  // ---- for the front ----
  [[nodiscard]] const Session& session() const { return session_; }
  [[nodiscard]] const ServeArguments& arguments() const { return arguments_; }
  [[nodiscard]] const std::vector<SeatPlan>& seats() const { return plans_; }
  [[nodiscard]] const std::vector<SeatLinks>& links() const { return links_; }
  [[nodiscard]] Pacer& pacer() { return pacer_; }
  [[nodiscard]] HandQueue& hands() { return hands_; }
  [[nodiscard]] GameRun& game() { return game_; }
  // What to put before the command of a game that is started by hand; empty: nothing.
  [[nodiscard]] const std::string& environment() const { return environment_; }

  // The recording that moves the seats; null: none does.
  [[nodiscard]] const Replay* replay() const { return replay_.get(); }
  // The real box of this session; null: there is none.
  [[nodiscard]] const BoxRun* box() const { return box_.get(); }

  // The file that is being written; empty: none.
  [[nodiscard]] std::string recording() const;

  // What a hand was told in words (sim/faults/hand_words.h), from now on; of a session with a real
  // box `box out`, `box in` and `let go` too. Gives what is wrong with them.
  std::optional<Error> obey(std::string_view words);
  // A seat goes on with another panel, from now on. Hands that come before the next turn must be
  // told in terms of the panel before, so nothing else is asked in this turn.
  void reload(std::uint16_t seat, const std::string& path, std::shared_ptr<const Panel> panel);
  // Starts the game, or ends the one that runs and starts it again; says where there is none.
  void start_game();
  // Asks the game to end, without waiting; says where none runs.
  void end_game();
  // Ends the session with this turn.
  void leave() { left_ = true; }

  void say(const Saying& saying) { front_.say(saying); }
  // "tram: the game opened the pty".
  [[nodiscard]] std::string written(const Saying& saying) const;

 private:
  RunLoop(std::string_view verb, const ServeArguments& arguments, RunPlan plan, Front& front);
  std::vector<const Link*> all_ptys() const;
  Result<Done> set_game();
  void turn();
  Instant next_wake() const;
  std::optional<Error> mark(const std::string& text);
  void take_due(Instant until);
  void read_links();
  void read_hands();
  void go_to_begin();
  void take_recorded(Instant until);
  void reload_at(const SeatInput& reloaded, const std::string& path);
  void deliver();
  void tell();
  void tell_connection(std::size_t seat);
  void watch_game();
  int finish();

  std::string verb_;
  ServeArguments arguments_;
  std::vector<SeatPlan> plans_;
  std::vector<SeatOptions> seat_options_;
  std::unique_ptr<Replay> replay_;
  std::optional<Error> replay_trouble_;
  Front& front_;
  Pacer pacer_;
  Signals signals_;
  Session session_;
  SessionOutputs outputs_;
  std::vector<SeatLinks> links_;
  std::vector<Link*> all_links_;
  std::unique_ptr<BoxRun> box_;  // of seat 0
  std::vector<HandSeat> hand_seats_;
  std::vector<SeatInput> inputs_;
  std::vector<SeatInput> recorded_;  // what of them a replay gave
  std::vector<Input> read_;
  std::vector<bool> was_connected_;
  HandQueue hands_;
  Remarks remarks_;
  std::vector<std::int64_t> changes_;  // of outputs, for each seat
  std::unique_ptr<HandSocket> hand_socket_;
  GameRun game_;
  std::optional<GameEnd> game_end_;  // that ends the session too
  std::string environment_;
  std::unique_ptr<SessionRecorder> recorder_;
  Instant handed_over_;
  bool recording_ended_told_ = false;
  bool left_ = false;
  bool look_at_once_ = false;  // the next turn waits for nothing
  std::optional<int> signal_;
};

}  // namespace understudy
