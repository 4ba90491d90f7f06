// The sentences of attendant_words.h, one function per state of the controller.
#include "scenarios/tram/game/attendant_words.h"

#include <fmt/format.h>

namespace understudy::tram {

namespace {

bool is_tcp(const std::string& where) {
  return where.find('/') == std::string::npos && where.find(':') != std::string::npos;
}

bool says(const PanelReading& reading, const char* words) {
  return reading.trouble.find(words) != std::string::npos;
}

std::string shortened(const std::string& where, std::size_t longest) {
  if (where.size() <= longest) return where;
  const std::size_t half = (longest - 3) / 2;
  return where.substr(0, half) + "..." + where.substr(where.size() - half);
}

Advice absent_on_tcp(const PanelReading& reading) {
  return {.how_it_is = "controller absent",
          .meaning = fmt::format("Nothing answers at {}.", shortened(reading.where, 30)),
          .steps = {"Is the panel's program running? (understudy serve)",
                    "It prints tcp=... : that is the address to use here.",
                    "Start again with: tram-game --port ADDRESS"}};
}

Advice absent_on_cable(const PanelReading& reading) {
  const std::string where = shortened(reading.where, 30);
  if (says(reading, "Permission denied")) {
    return {.how_it_is = "controller absent",
            .meaning = fmt::format("This user may not use {}.", where),
            .steps = {fmt::format("Who may? Type: ls -l {}", where),
                      "It names a group, often dialout. Add this user:",
                      "sudo usermod -aG dialout NAME, then log in again."}};
  }
  if (says(reading, "busy")) {
    return {.how_it_is = "controller absent",
            .meaning = fmt::format("Another program has {}.", where),
            .steps = {"Close the other program: a monitor, a second game.",
                      fmt::format("Which one? Type: fuser -v {}", where),
                      "The game takes the port by itself when it is free."}};
  }
  return {.how_it_is = "controller absent",
          .meaning = fmt::format("There is nothing at {}.", where),
          .steps = {"Push its USB plug in, at the computer and at the box.",
                    "Still absent? Type: ls /dev/ttyACM* /dev/ttyUSB*",
                    "Another name? Start again: tram-game --port NAME"}};
}

Advice silent(const PanelReading& reading) {
  if (reading.bad_lines > 0) {
    return {.how_it_is = "controller silent",
            .meaning = fmt::format("{} lines came; none is five numbers.", reading.bad_lines),
            .steps = {"Is it the tram desk? Another box may be plugged in.",
                      "Its program must speak at 115200 baud.",
                      "Pull its USB plug, count to three, put it back."}};
  }
  return {.how_it_is = "controller silent",
          .meaning = "The plug is in, but nothing has been said.",
          .steps = {"Wait five seconds: it may be starting.",
                    "Press the reset button on its board, if it has one.",
                    is_tcp(reading.where)
                        ? "Is the panel's program stopped? Start it again."
                        : fmt::format("Listen: cat {}", shortened(reading.where, 40))}};
}

Advice stale(const PanelReading& reading) {
  return {.how_it_is = "controller stale",
          .meaning = "It was talking and has stopped; its plug is in.",
          .steps = {is_tcp(reading.where) ? "Start the panel's program again: understudy serve"
                                          : "Pull its USB plug, count to three, put it back.",
                    "Stale again? Another cable, then another socket.",
                    "Meanwhile the keyboard drives: the keys stand below."}};
}

}  // namespace

Advice advice_for(const PanelReading& reading) {
  switch (reading.link) {
    case PanelLink::fresh:
      return {.how_it_is = "controller fresh", .meaning = "It talks and is heard.", .steps = {}};
    case PanelLink::stale:
      return stale(reading);
    case PanelLink::silent:
      return silent(reading);
    case PanelLink::absent:
      break;
  }
  if (reading.where.empty()) {
    return {.how_it_is = "no controller named", .meaning = "The keyboard drives.", .steps = {}};
  }
  return is_tcp(reading.where) ? absent_on_tcp(reading) : absent_on_cable(reading);
}

}  // namespace understudy::tram
