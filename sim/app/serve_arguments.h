// The arguments of sessions in real time (`serve`, `panel`), and the links that they ask for.
#pragma once

#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "sim/app/session_arguments.h"
#include "sim/link/pacer.h"
#include "sim/link/seat_links.h"

namespace understudy {

struct ServeArguments {
  SessionArguments session;
  std::optional<std::string> pty;
  bool no_pty = false;
  std::optional<std::string> tcp;
  bool no_tcp = false;
  std::vector<std::string> serial;  // none, or one for each seat
  std::string box;                  // the port of a real box; empty: there is none
  std::optional<std::int64_t> as_if_baud;
  std::string tcp_dtr = "raised";
  bool exclusive = false;
  bool wait_for_game = false;
  bool print_env = false;
  double speed = 1.0;
  std::vector<std::string> game;
};

void declare_serve_arguments(Arguments& arguments, ServeArguments& into);
// Those of them that open links.
void declare_links(Arguments& arguments, ServeArguments& into);
// Those of them about the game.
void declare_game(Arguments& arguments, ServeArguments& into);

// What cannot go together, or cannot be: kUnusable.
Result<Done> check_serve_arguments(const ServeArguments& arguments);

// The links of one seat: a pty where there is one, and TCP on a fixed port of loopback, each unless
// told otherwise; with a serial port only that, and of the others what was asked for. The fixed
// port being in use is told in `notices` and not an error; a port that was asked for is. Where a
// name of the serial port lies is told there too. `index` of `count` seats: names and ports are
// numbered on.
Result<SeatLinks> open_seat_links(Pacer& pacer, const ServeArguments& arguments,
                                  const SeatPlan& seat, std::size_t index, std::size_t count,
                                  std::vector<std::string>& notices);

// The link of that name ("pty", "tcp", "serial") among a seat's; null where it has none.
const Link* find_link(const SeatLinks& links, std::string_view name);

// "ready seat=tram pty=/dev/pts/5 tcp=127.0.0.1:27425", with a line feed.
std::string ready_line(const std::string& seat, const SeatLinks& links);

}  // namespace understudy
