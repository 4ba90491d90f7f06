// What a seat's links and the game on them are doing, in words. As data; the area draws it.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "sim/window/session_view.h"

namespace understudy {

// "pseudo-terminal", "TCP", "serial port".
std::string link_kind(const LinkView& link);
// Who is connected: "tram_game (process 4711)", on TCP with the address. Looks through all
// processes: milliseconds, so only once for each game that comes in.
std::string game_at(const LinkView& link);

enum class Tone : std::uint8_t { kPlain, kGood, kCaution };
struct LinkFact {
  std::string about;  // "Speed"
  std::string text;   // "115200 baud, as the panel"
  Tone tone = Tone::kPlain;
};
// Speed, DTR, lines both ways, input age, bytes lost with their reasons.
std::vector<LinkFact> link_facts(const SeatView& seat, Instant now);

}  // namespace understudy
