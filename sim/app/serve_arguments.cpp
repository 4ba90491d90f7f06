// Declares the arguments of sessions in real time and opens their links.
#include "sim/app/serve_arguments.h"

#include <algorithm>

#include "sim/link/pty_link.h"
#include "sim/link/serial_link.h"
#include "sim/link/tcp_link.h"

namespace understudy {
namespace {

constexpr std::size_t kPortMax = 65'535;

LinkSettings settings_of(const PanelDescription& panel, const ServeArguments& arguments) {
  return {.baud = panel.wire.baud,
          .stop_bits = panel.wire.stop_bits,
          .host_buffer_bytes = panel.host.buffer_bytes,
          .tell_unseen_dtr = panel.host.dtr == DtrMeans::kOpensGate && arguments.game.empty()};
}

Result<std::unique_ptr<Link>> open_one_pty(Pacer& pacer, const ServeArguments& arguments,
                                           const SeatPlan& seat, std::size_t index,
                                           std::size_t count) {
  PtyOptions options{.settings = settings_of(seat.panel->description, arguments),
                     .name = arguments.pty,
                     .exclusive = arguments.exclusive,
                     .tells_reads_at_once = arguments.box.empty()};
  if (options.name && count > 1) *options.name += "-" + std::to_string(index + 1);
  return open_pty(pacer, options);
}

Result<std::unique_ptr<Link>> open_one_tcp(Pacer& pacer, const ServeArguments& arguments,
                                           const SeatPlan& seat, std::size_t index,
                                           std::size_t count) {
  TcpOptions options{.settings = settings_of(seat.panel->description, arguments),
                     .as_if_baud = arguments.as_if_baud,
                     .dtr_low = arguments.tcp_dtr == "low"};
  if (arguments.tcp) {
    const auto read = read_tcp_place(*arguments.tcp, options);
    if (!read.ok()) return read.error();
  }
  const std::size_t last = options.port + count - 1;
  if (options.port != 0 && last > kPortMax)
    return Error{ErrorCode::kUnusable,
                 "cannot number " + std::to_string(count) + " seats on from TCP port " +
                     std::to_string(options.port) + ": the last would be " + std::to_string(last) +
                     ", and ports end at " + std::to_string(kPortMax) + "; --tcp " +
                     std::to_string(kPortMax + 1 - count) + " or lower, or --tcp 0, has room"};
  if (options.port != 0) options.port = static_cast<std::uint16_t>(options.port + index);
  return open_tcp(pacer, options);
}

Result<std::unique_ptr<Link>> open_one_serial(Pacer& pacer, const ServeArguments& arguments,
                                              const SeatPlan& seat, std::size_t index) {
  const WireDescription& wire = seat.panel->description.wire;
  return open_serial(pacer, {.port = arguments.serial[index],
                             .settings = {.baud = wire.baud,
                                          .data_bits = wire.data_bits,
                                          .parity = wire.parity,
                                          .stop_bits = wire.stop_bits},
                             .host_buffer_bytes = seat.panel->description.host.buffer_bytes});
}

// A serial port stands for a game on another machine: nothing else is opened beside it unasked.
bool wants_pty(const ServeArguments& arguments) {
  return !arguments.no_pty && (arguments.pty || (arguments.serial.empty() && has_ptys()));
}

bool wants_tcp(const ServeArguments& arguments) {
  return !arguments.no_tcp && (arguments.serial.empty() || arguments.tcp);
}

Result<Done> check_serial_arguments(const ServeArguments& arguments) {
  const auto wrong = [](const std::string& text) { return Error{ErrorCode::kUnusable, text}; };
  std::vector<std::string> ports = arguments.serial;
  std::sort(ports.begin(), ports.end());
  const auto twice = std::adjacent_find(ports.begin(), ports.end());
  if (twice != ports.end())
    return wrong("--serial " + *twice + " is there twice; each seat needs a port of its own");
  if (ports.empty() || arguments.pty) return Done{};
  for (const std::string& word : arguments.game)
    if (word.find("{port}") != std::string::npos)
      return wrong("the game's argument '" + word +
                   "' asks for a pseudo-terminal, and beside --serial there is one only when asked "
                   "for; add --pty NAME, or leave out --serial");
  return Done{};
}

}  // namespace

void declare_links(Arguments& arguments, ServeArguments& into) {
  arguments.heading("links");
  arguments.option(
      "--pty NAME", into.pty,
      "a name for the serial port: a path such as ./port, or one word, which then lies "
      "where the ready line says");
  arguments.option("--tcp PLACE", into.tcp, "[HOST:]PORT to listen on; 0 picks a free port");
  arguments.options("--serial PORT", into.serial,
                    "speak on a real port, for a game at its other end: a path, or "
                    "usb:VID:PID[:SERIAL]; once for each seat; without pseudo-terminal and TCP "
                    "unless you ask for them");
  arguments.flag("--no-pty", into.no_pty, "no pseudo-terminal");
  arguments.flag("--no-tcp", into.no_tcp, "no TCP");
  arguments.flag("--exclusive", into.exclusive,
                 "a second program cannot open the serial port (root is let in anyway)");
  arguments.option("--as-if-baud N", into.as_if_baud, "TCP: as if the game had set this speed");
  arguments.option("--tcp-dtr raised|low", into.tcp_dtr, "TCP: how connecting leaves DTR");
}

void declare_serve_arguments(Arguments& arguments, ServeArguments& into) {
  arguments.positional("PANEL...", into.session.panels, "panel files, one seat each");
  declare_session(arguments, into.session);
  declare_links(arguments, into);
  declare_game(arguments, into);
}

void declare_game(Arguments& arguments, ServeArguments& into) {
  arguments.heading("the game");
  arguments.flag("--wait-for-game", into.wait_for_game, "time stands still until a game connects");
  arguments.flag("--print-env", into.print_env,
                 "tell what to put before a game's command so that it has modem lines");
  arguments.option("--speed X", into.speed, "for looking only: so many times as fast");
  arguments.game(into.game);
}

Result<Done> check_serve_arguments(const ServeArguments& arguments) {
  const auto wrong = [](const std::string& text) { return Error{ErrorCode::kUnusable, text}; };
  if (arguments.no_pty && arguments.no_tcp && arguments.serial.empty())
    return wrong(
        "--no-pty and --no-tcp together leave no way in for a game; leave one of them out");
  if (arguments.no_tcp && arguments.serial.empty() && !arguments.pty && !has_ptys())
    return wrong("--no-tcp leaves no way in for a game here; leave it out, or add --serial PORT");
  if (arguments.print_env && !has_ptys())
    return wrong("--print-env is about pseudo-terminals, which this system does not have");
  if (arguments.no_pty && arguments.pty) return wrong("--no-pty and --pty contradict each other");
  if (arguments.no_tcp && arguments.tcp) return wrong("--no-tcp and --tcp contradict each other");
  if (arguments.tcp_dtr != "raised" && arguments.tcp_dtr != "low")
    return wrong("--tcp-dtr " + arguments.tcp_dtr + ": 'raised' or 'low' is needed");
  if (!(arguments.speed >= 0.01 && arguments.speed <= 100.0))
    return wrong("--speed needs a number from 0.01 to 100");
  if (arguments.as_if_baud && *arguments.as_if_baud < 1)
    return wrong("--as-if-baud needs a positive number such as 9600");
  return check_serial_arguments(arguments);
}

Result<SeatLinks> open_seat_links(Pacer& pacer, const ServeArguments& arguments,
                                  const SeatPlan& seat, std::size_t index, std::size_t count,
                                  std::vector<std::string>& notices) {
  if (!arguments.serial.empty() && arguments.serial.size() != count)
    return Error{ErrorCode::kUnusable, "--serial is needed " + std::to_string(count) +
                                           " times, once for each seat in their "
                                           "order; given: " +
                                           std::to_string(arguments.serial.size())};
  std::vector<std::unique_ptr<Link>> links;
  if (wants_pty(arguments)) {
    auto pty = open_one_pty(pacer, arguments, seat, index, count);
    if (!pty.ok()) return pty.error();
    if (arguments.pty) notices.push_back("the serial port's name is " + pty.value()->where());
    links.push_back(std::move(pty).value());
  }
  if (wants_tcp(arguments)) {
    auto tcp = open_one_tcp(pacer, arguments, seat, index, count);
    const bool can_do_without = !arguments.tcp && !links.empty();
    if (tcp.ok())
      links.push_back(std::move(tcp).value());
    else if (can_do_without && tcp.error().code == ErrorCode::kBusy)
      notices.push_back(tcp.error().text + "; going on without TCP");
    else
      return tcp.error();
  }
  if (!arguments.serial.empty()) {
    auto serial = open_one_serial(pacer, arguments, seat, index);
    if (!serial.ok()) return serial.error();
    links.push_back(std::move(serial).value());
  }
  return SeatLinks(std::move(links));
}

const Link* find_link(const SeatLinks& links, std::string_view name) {
  for (const std::unique_ptr<Link>& link : links.links())
    if (link->name() == name) return link.get();
  return nullptr;
}

std::string ready_line(const std::string& seat, const SeatLinks& links) {
  std::string line = "ready seat=" + seat;
  for (const std::unique_ptr<Link>& link : links.links())
    line += " " + std::string(link->name()) + "=" + link->where();
  return line + "\n";
}

}  // namespace understudy
