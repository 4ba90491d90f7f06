// The list of areas: one row each.
#include "sim/window/areas.h"

#include <algorithm>
#include <array>

#include "sim/window/area_rows.h"

namespace understudy {
namespace {

bool has_game(const SessionView& view) {
  return view.game.state != GameState::kNone;
}

bool has_box(const SessionView& view) {
  return std::any_of(view.seats.begin(), view.seats.end(),
                     [](const SeatView& seat) { return !seat.box.empty(); });
}

bool is_recorded(const SessionView& view) {
  return !view.recording.empty();
}

bool game_failed(const SessionView& view, std::size_t) {
  return view.game.state == GameState::kEnded && !view.game.ended_well;
}

// Nobody has come yet, and no game was told to: the person wants to know what to type.
bool nobody_came(const SessionView& view, std::size_t seat) {
  if (has_game(view) || view.seats[seat].links.empty()) return false;
  const auto& links = view.seats[seat].links;
  return std::none_of(links.begin(), links.end(), [](const LinkView& link) { return link.open; });
}

constexpr std::array<Area, 8> kAreas = {
    {{.name = "box",
      .heading = "Real box",
      .draw = draw_box,
      .usual_height = 130,
      .wanted = has_box},
     {.name = "recording",
      .heading = "Recording",
      .draw = draw_recording,
      .usual_height = 110,
      .wanted = is_recorded},
     {.name = "charts", .heading = "Charts", .draw = draw_charts, .usual_height = 240},
     {.name = "traffic", .heading = "Traffic", .draw = draw_traffic, .usual_height = 220},
     {.name = "links",
      .heading = "Links",
      .draw = draw_links,
      .usual_height = 190,
      .first = nobody_came},
     {.name = "game",
      .heading = "Game output",
      .draw = draw_game_output,
      .usual_height = 130,
      .wanted = has_game,
      .first = game_failed},
     {.name = "words", .heading = "What was said", .draw = draw_words, .usual_height = 110},
     {.name = "supply",
      .heading = "Supply",
      .draw = draw_supply,
      .usual_height = 180,
      .usually_open = false}}};

}  // namespace

std::span<const Area> areas() {
  return kAreas;
}

}  // namespace understudy
