// The words of words.h.
#include "scenarios/tram/game/words.h"

#include <fmt/format.h>

#include <cmath>

namespace understudy::tram {

namespace {

constexpr int kShiftBegins_s = (23 * 60 + 40) * 60;

const char* aspect_text(Aspect aspect) {
  switch (aspect) {
    case Aspect::green:
      return "green";
    case Aspect::amber:
      return "amber";
    case Aspect::red:
      return "red";
  }
  return "";
}

const char* doors_text(const Doors& doors) {
  switch (doors.state()) {
    case DoorState::shut:
      return doors.wished() ? "doors asked for" : "doors shut";
    case DoorState::opening:
      return "doors opening";
    case DoorState::open:
      return "doors open";
    case DoorState::closing:
      return "doors closing";
  }
  return "";
}

std::string whereabouts(const Shift& shift) {
  const double front_m = shift.motion().position_m;
  if (shift.next_stop() >= kStops.size())
    return fmt::format("line done, {} points", shift.points());
  const Stop& stop = kStops[shift.next_stop()];
  return fmt::format("{} in {} m", stop.name, std::lround(stop.mark_m - front_m));
}

std::string signal_ahead(const Shift& shift) {
  if (Signals::next_after(shift.motion().position_m) >= kSignals.size()) return "no signal ahead";
  const std::size_t index = shift.signal_in_sight();
  if (index >= kSignals.size()) return "signal not in sight";
  return fmt::format("signal {} in {} m",
                     aspect_text(shift.signals().aspect(index, shift.time_s())),
                     std::lround(kSignals[index].at_m - shift.motion().position_m));
}

}  // namespace

std::string clock_text(double seconds) {
  const int now = (kShiftBegins_s + static_cast<int>(seconds)) % (24 * 3600);
  return fmt::format("{:02}:{:02}:{:02}", now / 3600, now / 60 % 60, now % 60);
}

std::string lateness_text(double late_s) {
  const int seconds = static_cast<int>(std::lround(std::abs(late_s)));
  if (seconds < 5) return "on time";
  return fmt::format("{}:{:02} {}", seconds / 60, seconds % 60, late_s > 0.0 ? "late" : "early");
}

std::string panel_text(const PanelReading& reading) {
  switch (reading.link) {
    case PanelLink::absent:
      return fmt::format("panel absent ({})", reading.trouble);
    case PanelLink::silent:
      return "panel silent: port open, no line yet";
    case PanelLink::stale:
      return "panel stale: its lines have stopped";
    case PanelLink::fresh:
      return "panel fresh";
  }
  return "";
}

std::string driver_text(const Game& game) {
  if (game.attract()) return "the tram drives itself";
  switch (game.desk().driver) {
    case Driver::panel:
      return "the panel drives";
    case Driver::keyboard:
      return "the keyboard drives";
    case Driver::nobody:
      return "nobody drives: calm brake";
  }
  return "";
}

std::string handle_text(const Game& game) {
  const Demand& demand = game.shift().demand();
  if (!game.attract() && game.desk().driver == Driver::nobody) return "calm brake";
  if (demand.rail_brake) return "rail brake";
  if (demand.power > 0.0) return fmt::format("power {:.0f} %", 100.0 * demand.power);
  if (demand.brake > 0.0) return fmt::format("brake {:.0f} %", 100.0 * demand.brake);
  return "coast";
}

std::string weather_text(const Shift& shift) {
  switch (shift.rail()) {
    case Rail::dry:
      return fmt::format("{}, dry rail", name_of(shift.weather().sky));
    case Rail::wet:
      return fmt::format("{}, wet rail", name_of(shift.weather().sky));
    case Rail::snow:
      return fmt::format("{}, slippery rail", name_of(shift.weather().sky));
    case Rail::leaves:
      return fmt::format("{}, leaves on the rail", name_of(shift.weather().sky));
  }
  return "";
}

std::string digits_text(int timetable) {
  return fmt::format("{}:{:02}", timetable / 100, timetable % 100);
}

std::string status_line(const Game& game) {
  const Shift& shift = game.shift();
  std::string line =
      fmt::format("{}  {}  {}  {:.1f} km/h  {}  {}  {}  {} aboard  {} good {} bad lines  {}  {}",
                  clock_text(shift.time_s()), whereabouts(shift), name_of(shift.weather().sky),
                  shift.motion().speed_mps * 3.6, handle_text(game), signal_ahead(shift),
                  doors_text(shift.doors()), shift.passengers(), game.panel().good_lines,
                  game.panel().bad_lines, panel_text(game.panel()), driver_text(game));
  if (shift.note() != Note::none) line += fmt::format("  \"{}\"", text_of(shift.note()));
  return line;
}

}  // namespace understudy::tram
