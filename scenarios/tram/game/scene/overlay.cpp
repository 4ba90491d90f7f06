// The strip shows the next part of the line to scale, since the street shows only a few lengths.
#include "scenarios/tram/game/scene/overlay.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "scenarios/tram/game/words.h"

namespace understudy::tram {

namespace {

constexpr double kStripFrom_x = 250;
constexpr double kStripTo_x = 1070;
constexpr double kStrip_y = 44;
constexpr double kBehind_m = 30;
constexpr double kAhead_m = 520;
constexpr double kNoteMiddle_x = 700;  // clear of the card in the corner
constexpr Colour kInk{44, 42, 40};

double strip_x(const View& view, double position_m) {
  return kStripFrom_x + (position_m - view.front_m + kBehind_m) * (kStripTo_x - kStripFrom_x) /
                            (kBehind_m + kAhead_m);
}

bool on_strip(double x) {
  return x >= kStripFrom_x && x <= kStripTo_x;
}

Picture paint_strip(SDL_Renderer* renderer) {
  Painter painter(kSceneWidth - 32, 64);
  painter.rounded({0, 0, kSceneWidth - 32, 64}, 10, {8, 12, 24, 190});
  return painter.picture(renderer);
}

}  // namespace

Overlay::Overlay(SDL_Renderer* renderer) : strip_(paint_strip(renderer)) {}

void Overlay::draw_strip(const View& view, Shine& shine) const {
  strip_.draw(view.renderer, 16, 12);
  view.text->draw({32, 24}, clock_text(view.shift().time_s()), {.size = 20});
  view.text->draw({32, 56}, weather_text(view.shift()), {.size = 9, .colour = colour::kFaintCream});
  view.text->draw({kSceneWidth - 32, 24}, fmt::format("{}", view.shift().points()),
                  {.size = 20, .align = Align::right});
  view.text->draw({kSceneWidth - 32, 54}, "points",
                  {.size = 8, .colour = colour::kFaintCream, .align = Align::right});
  view.fill({kStripFrom_x, kStrip_y, kStripTo_x - kStripFrom_x, 2}, colour::kFaintCream);
  for (const Stretch& leaves : kLeaves) {
    const double from = std::clamp(strip_x(view, leaves.from_m), kStripFrom_x, kStripTo_x);
    const double to = std::clamp(strip_x(view, leaves.to_m), kStripFrom_x, kStripTo_x);
    if (to <= from) continue;
    view.fill({from, kStrip_y - 2, to - from, 6}, {190, 116, 48, 200});
    view.text->draw({(from + to) / 2, kStrip_y + 12}, "wet leaves",
                    {.size = 8, .colour = {222, 156, 92}, .align = Align::centre});
  }
  for (const Stop& stop : kStops) {
    const double x = strip_x(view, stop.mark_m);
    if (!on_strip(x)) continue;
    view.fill({x - 4, kStrip_y - 5, 8, 12}, colour::kCream);
    view.text->draw({x, kStrip_y - 20}, stop.name, {.size = 8, .align = Align::centre});
  }
  draw_signals(view, shine);
  draw_walkers(view);
  draw_fog(view);
  view.fill({strip_x(view, view.front_m) - 14, kStrip_y - 4, 14, 10}, colour::kTramGreen);
  view.fill({strip_x(view, view.front_m) - 3, kStrip_y - 4, 3, 10}, colour::kCream);
}

void Overlay::draw_signals(const View& view, Shine& shine) const {
  for (std::size_t index = 0; index < kSignals.size(); ++index) {
    const double x = strip_x(view, kSignals[index].at_m);
    const bool hidden = kSignals[index].at_m - view.front_m > sight_m(view.shift().weather());
    if (!on_strip(x) || hidden) continue;
    const Colour tint = colour_of(view.shift().signals().aspect(index, view.shift().time_s()));
    view.fill({x - 1, kStrip_y - 10, 2, 12}, colour::kFaintCream);
    shine.draw(view, {x, kStrip_y - 13}, 12, tint);
    shine.draw(view, {x, kStrip_y - 13}, 7, tint);
  }
}

void Overlay::draw_walkers(const View& view) const {
  for (std::size_t index = 0; index < kWalkers; ++index) {
    const double x = strip_x(view, view.shift().people().at_m(index));
    if (!on_strip(x) || view.shift().people().state(index) != Walker::on_track) continue;
    view.fill({x - 2, kStrip_y - 6, 5, 13}, colour::kRed);
    view.text->draw({x, kStrip_y + 12}, "ring!",
                    {.size = 8, .colour = colour::kRed, .align = Align::centre});
  }
}

// Where the strip cannot be seen, it says why.
void Overlay::draw_fog(const View& view) const {
  const double from = strip_x(view, view.front_m + sight_m(view.shift().weather()));
  if (from >= kStripTo_x) return;
  const double fog = view.shift().weather().fog;
  view.fill({from, kStrip_y - 24, kStripTo_x - from, 44},
            Colour{120, 126, 146}.with_alpha(static_cast<int>(60 * fog)));
  view.text->draw({kStripTo_x - 6, kStrip_y + 12}, fog > 0.5 ? "fog: signals hidden" : "",
                  {.size = 8, .colour = colour::kFaintCream, .align = Align::right});
}

void Overlay::draw_note(const View& view) const {
  const Note note = view.shift().note();
  if (view.shift().finished() || view.game->attract()) return;
  const bool leaving = view.game->attract_in_s() < kIdleWarning_s;
  if (note == Note::none && !leaving) return;
  const std::string words =
      leaving ? fmt::format("Is anybody there? In {:.0f} s the tram drives itself: move anything.",
                            std::ceil(view.game->attract_in_s()))
              : std::string(text_of(note));
  const double width = view.text->width(words, 12) + 36;
  const double x = kNoteMiddle_x - width / 2;
  view.fill({x, 92, width, 32}, {240, 232, 210, 235});
  view.fill({x, 92, 5, 32},
            !leaving && is_warning(note) ? Colour{190, 62, 48} : Colour{52, 120, 96});
  view.text->draw({kNoteMiddle_x, 102}, words,
                  {.size = 12, .colour = kInk, .align = Align::centre});
}

void Overlay::draw(const View& view, Shine& shine) const {
  draw_strip(view, shine);
  draw_note(view);
}

}  // namespace understudy::tram
