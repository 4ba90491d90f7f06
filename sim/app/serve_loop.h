// A session in real time: waits with the pacer, carries inputs from links, hands and keys into the
// session and chunks out of it to the links, records, and shows how it goes.
#pragma once

#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "sim/app/hand_queue.h"
#include "sim/app/key_hands.h"
#include "sim/app/remarks.h"
#include "sim/app/screen.h"
#include "sim/app/serve_arguments.h"
#include "sim/link/game_process.h"
#include "sim/link/hand_socket.h"
#include "sim/link/lines_in.h"
#include "sim/link/port_environment.h"
#include "sim/link/signals.h"

namespace understudy {

// Thread: one.
class ServeLoop {
 public:
  // Opens all links, begins the recording. Errors as those say.
  static Result<std::unique_ptr<ServeLoop>> open(const ServeArguments& arguments);

  // Tells that it is ready, starts the game if there is one, and plays until the time is over, a
  // signal comes or the game ends. Gives the exit status.
  int run();

 private:
  ServeLoop(const ServeArguments& arguments, std::vector<SeatPlan> plans,
            const std::vector<SeatOptions>& seats);
  Result<Done> open_links();
  std::vector<const Link*> all_ptys() const;
  Result<Done> start_game();
  void turn();
  Instant next_wake() const;
  void read_links();
  void read_hands();
  void obey(const std::string& words, std::optional<HandSocket::Asked> asked);
  void tell_refusal(const std::string& text);
  void tell_refusals(bool at_once);
  void deliver();
  void tell();
  void tell_connection(std::size_t seat);
  void show(bool now);
  void watch_game();
  void tell_game_lines(bool all);
  int finish();
  void say(const std::string& line);

  ServeArguments arguments_;
  std::vector<SeatPlan> plans_;
  std::vector<SeatOptions> seat_options_;
  Pacer pacer_;
  Signals signals_;
  Screen screen_;
  Session session_;
  SessionOutputs outputs_;
  std::vector<SeatLinks> links_;
  std::vector<Link*> all_links_;
  std::vector<HandSeat> hand_seats_;
  std::vector<SeatInput> inputs_;
  std::vector<Input> read_;
  std::vector<bool> was_connected_;
  HandQueue hands_;
  KeyHands keys_;
  Remarks remarks_;
  std::vector<std::int64_t> changes_;  // of outputs, for each seat
  std::unique_ptr<LinesIn> lines_in_;
  std::unique_ptr<BytesIn> keys_in_;
  std::unique_ptr<HandSocket> hand_socket_;
  std::unique_ptr<GameProcess> game_;
  std::optional<GameEnd> game_end_;
  std::unique_ptr<SessionRecorder> recorder_;
  bool recording_ended_told_ = false;
  Instant refusals_quiet_until_;
  std::string last_refusal_;
  std::int64_t refusals_untold_ = 0;
  std::optional<int> signal_;
  Instant next_show_;
};

}  // namespace understudy
