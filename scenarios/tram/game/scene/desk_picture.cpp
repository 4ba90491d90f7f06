// Moves the hands of the dials and writes the words beside them.
#include "scenarios/tram/game/scene/desk_picture.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "scenarios/tram/game/attendant_words.h"
#include "scenarios/tram/game/keys.h"
#include "scenarios/tram/game/scene/desk_plate.h"
#include "scenarios/tram/game/words.h"

namespace understudy::tram {

namespace {

constexpr int kCaption = 9;
constexpr int kBody = 11;

void caption(const View& view, Spot at, std::string_view words, Align align = Align::left) {
  view.text->draw(at, words, {.size = kCaption, .colour = colour::kFaintCream, .align = align});
}

}  // namespace

DeskPicture::DeskPicture(SDL_Renderer* renderer)
    : plate_(paint_plate(renderer)),
      needle_(paint_needle(renderer)),
      grip_(paint_grip(renderer)),
      lens_(paint_lens(renderer)) {}

void DeskPicture::draw_speed(const View& view) const {
  const double kmh = view.shift().motion().speed_mps * 3.6;
  const double limit = speed_limit_mps(view.front_m) * 3.6;
  const double turn = dial_angle(limit) / 57.29578;
  const Spot limit_at{kDial.x + std::sin(turn) * (kDialRadius - 5),
                      kDial.y - std::cos(turn) * (kDialRadius - 5)};
  view.fill({limit_at.x - 4, limit_at.y - 4, 8, 8}, colour::kAmber);
  for (int number = 0; number <= static_cast<int>(kDialTop_kmh); number += 20) {
    const double angle = dial_angle(number) / 57.29578;
    view.text->draw({kDial.x + std::sin(angle) * 40, kDial.y - std::cos(angle) * 40 - 4},
                    fmt::format("{}", number), {.size = 8, .align = Align::centre});
  }
  view.text->draw({kDial.x, kDial.y + 26}, fmt::format("{:.0f}", kmh),
                  {.size = 13, .align = Align::centre});
  caption(view, {kDial.x, kDial.y + 46}, "km/h", Align::centre);
  const SDL_Rect to{static_cast<int>(kDial.x) - 6, static_cast<int>(kDial.y) - 62, 12, 124};
  SDL_RenderCopyEx(view.renderer, needle_.texture.get(), nullptr, &to, dial_angle(kmh), nullptr,
                   SDL_FLIP_NONE);
}

void DeskPicture::draw_handle(const View& view) const {
  const double x = kHandleSlot.x;
  grip_.draw(view.renderer, x + 7 - 22, handle_y(view.game->controls().power) - 7);
  caption(view, {x + 32, handle_y(1003)}, "power");
  caption(view, {x + 32, handle_y(512) - 4}, "coast");
  caption(view, {x + 32, handle_y(250) - 4}, "brake");
  caption(view, {x + 32, handle_y(0) - 7}, "rail brake");
  caption(view, {x - 4, 562}, "handle", Align::right);
  const bool nobody = view.game->desk().driver == Driver::nobody && !view.game->attract();
  view.text->draw(
      {340, 562}, handle_text(*view.game),
      {.size = 9, .colour = nobody ? colour::kAmber : colour::kCream, .align = Align::right});
}

void DeskPicture::draw_mark_ruler(const View& view, double gap_m) const {
  constexpr double kRuler_y = 664;
  constexpr double kMetre = 7.0;
  constexpr double kMiddle = kStop_x + 190;
  view.fill({kMiddle - 26 * kMetre, kRuler_y, 52 * kMetre, 2}, colour::kFaintCream);
  view.fill({kMiddle - kDoorsReach_m * kMetre, kRuler_y - 3, 2 * kDoorsReach_m * kMetre, 8},
            colour::kGreen.with_alpha(90));
  for (int metre = -25; metre <= 25; metre += 5) {
    view.fill({kMiddle + metre * kMetre, kRuler_y - 4, 1, 8}, colour::kFaintCream);
  }
  const double at = std::clamp(gap_m, -26.0, 26.0);
  view.fill({kMiddle - at * kMetre - 3, kRuler_y - 12, 6, 24}, colour::kCream);
  view.fill({kMiddle - 1, kRuler_y - 8, 3, 16}, colour::kGreen);
  caption(view, {kMiddle, kRuler_y + 17}, "mark: doors open within 6 m", Align::centre);
}

void DeskPicture::draw_next_stop(const View& view) const {
  const Shift& shift = view.shift();
  caption(view, {kStop_x, 566},
          shift.at_stop()    ? "this stop"
          : shift.finished() ? ""
                             : "next stop");
  if (shift.next_stop() >= kStops.size()) {
    view.text->draw({kStop_x, 584}, "End of the line", {.size = 20});
    return;
  }
  const Stop& stop = kStops[shift.next_stop()];
  view.text->draw({kStop_x, 584}, stop.name, {.size = 20});
  const double gap_m = stop.mark_m - view.front_m;
  view.text->draw({kStop_x + 386, 584}, fmt::format("{} m", std::lround(gap_m)),
                  {.size = 20, .align = Align::right});
  const bool served = shift.records()[shift.next_stop()].served || shift.next_stop() == 0;
  const double due_s = served ? stop.leaves_s : stop.arrives_s;
  view.text->draw({kStop_x, 622},
                  fmt::format("{} {}", served ? "leaves" : "arrives", clock_text(due_s)),
                  {.size = kBody});
  const double late_s = shift.time_s() - due_s;
  const std::string left = fmt::format("in {:.0f} s", -late_s);
  view.text->draw({kStop_x + 170, 622}, late_s < 0.0 ? left : lateness_text(late_s),
                  {.size = kBody, .colour = late_s > kOnTime_s ? colour::kAmber : colour::kCream});
  draw_digits(view);
  draw_mark_ruler(view, gap_m);
}

// The same number as on the panel's display.
void DeskPicture::draw_digits(const View& view) const {
  constexpr double kRight = kStop_x + 386;
  caption(view, {kRight - 66, 624}, "departs in", Align::right);
  view.fill({kRight - 58, 615, 58, 23}, {16, 14, 14});
  view.text->draw({kRight - 8, 621}, digits_text(outputs_for(view.shift()).timetable),
                  {.size = 12, .colour = colour::kAmber, .align = Align::right});
}

void DeskPicture::draw_lamps(const View& view, Shine& shine) const {
  const Outputs lamps = outputs_for(view.shift());
  const struct {
    int level;
    Colour colour;
    std::string_view name;
  } rows[] = {{lamps.signal_red, colour::kRed, "red"},
              {lamps.signal_amber, colour::kAmber, "amber"},
              {lamps.signal_green, colour::kGreen, "green"},
              {lamps.door_lamp, colour::kWhite, "doors"}};
  caption(view, {kLamps_x - 20, 566}, "signal ahead");
  double x = kLamps_x;
  for (const auto& row : rows) {
    lens_.draw(view.renderer, x - 20, kLamps_y - 20);
    const auto light = static_cast<std::uint8_t>(row.level);
    if (row.level > 0) {
      shine.draw(view, {x, kLamps_y}, 40, row.colour.with_alpha(light * 2 / 3));
      shine.draw(view, {x, kLamps_y}, 17, row.colour.with_alpha(light));
      shine.draw(view, {x, kLamps_y}, 17, row.colour.with_alpha(light));
    }
    caption(view, {x, kLamps_y + 28}, row.name, Align::centre);
    x += kLampStep;
  }
  const std::size_t next = view.shift().signal_in_sight();
  const bool ahead = Signals::next_after(view.front_m) < kSignals.size();
  const std::string gap =
      next < kSignals.size()
          ? fmt::format("in {} m", std::lround(kSignals[next].at_m - view.front_m))
      : ahead ? "not in sight"
              : "none";
  view.text->draw({kLamps_x + 3 * kLampStep + 20, 565}, gap, {.size = 9, .align = Align::right});
  if (view.shift().bell_shown()) {
    view.text->draw({kLamps_x - 20, 672}, "bell", {.size = kBody, .colour = colour::kAmber});
  }
  if (view.shift().slip_shown()) {
    view.text->draw({kLamps_x + 60, 672}, "wheels slip", {.size = kBody, .colour = colour::kAmber});
  }
}

void DeskPicture::draw_saloon(const View& view) const {
  const Shift& shift = view.shift();
  const bool pleasant = shift.saloon().pleasant();
  const std::string figures[] = {fmt::format("{:.0f}^C", shift.saloon().celsius),
                                 fmt::format("{:.0f} %", 100.0 * shift.sand_left()),
                                 fmt::format("{}", shift.passengers())};
  const std::string_view names[] = {"saloon", shift.sanding() ? "sanding" : "sand", "aboard"};
  for (int i = 0; i < 3; ++i) {
    const double x = kSaloon_x + i * 84;
    caption(view, {x, 566}, names[i]);
    const bool odd = (i == 0 && !pleasant) || (i == 1 && shift.sanding());
    view.text->draw({x, 582}, figures[i],
                    {.size = 15, .colour = odd ? colour::kAmber : colour::kCream});
  }
  const int heater = std::clamp(view.game->controls().heater, 0, kPotTop);
  caption(view, {kSaloon_x, 612}, "heater");
  view.fill({kSaloon_x + 52, 614, 178, 4}, {14, 26, 23});
  view.fill({kSaloon_x + 52, 614, 178.0 * heater / kPotTop, 4}, {214, 132, 74});
}

void DeskPicture::draw_link(const View& view, Shine& shine) const {
  const PanelReading& reading = view.game->panel();
  const Colour tint = reading.link == PanelLink::fresh ? colour::kGreen
                      : reading.where.empty()          ? colour::kFaintCream
                                                       : colour::kAmber;
  view.fill({kSaloon_x, 632, 236, 58}, {12, 22, 20, 150});
  shine.draw(view, {kSaloon_x + 14, 647}, 11, tint);
  view.text->draw({kSaloon_x + 30, 641}, advice_for(reading).how_it_is,
                  {.size = kBody, .colour = tint});
  view.text->draw({kSaloon_x + 30, 660}, driver_text(*view.game), {.size = 9});
  const std::string count =
      reading.where.empty() ? "tram-game --port PATH plays on one"
      : reading.link == PanelLink::absent
          ? reading.trouble.substr(0, 38)
          : fmt::format("{} good lines, {} bad", reading.good_lines, reading.bad_lines);
  caption(view, {kSaloon_x + 30, 676}, count);
}

void DeskPicture::draw_keys(const View& view) const {
  double x = 16;
  const auto key = [&](std::string_view name, std::string_view what) {
    view.text->draw({x, kSceneHeight - 15}, name, {.size = 9, .colour = colour::kAmber});
    x += view.text->width(name, 9) + 7;
    view.text->draw({x, kSceneHeight - 15}, what, {.size = 9, .colour = colour::kFaintCream});
    x += view.text->width(what, 9) + 24;
  };
  for (const KeyOfAction& row : kKeys) {
    key(SDL_GetKeyName(SDL_GetKeyFromScancode(row.place)), row.what);
  }
  key(SDL_GetKeyName(SDL_GetKeyFromScancode(kKeyToBeginAgain)), "begin again");
  key(SDL_GetKeyName(SDL_GetKeyFromScancode(kKeyOfSound)),
      view.sound_on ? "sound is on" : "sound is off");
  key(SDL_GetKeyName(SDL_GetKeyFromScancode(kKeyToEnd)), "end");
}

void DeskPicture::draw(const View& view, Shine& shine) const {
  plate_.draw(view.renderer, 0, kDesk_y);
  draw_speed(view);
  draw_handle(view);
  draw_next_stop(view);
  draw_lamps(view, shine);
  draw_saloon(view);
  draw_link(view, shine);
  draw_keys(view);
}

}  // namespace understudy::tram
