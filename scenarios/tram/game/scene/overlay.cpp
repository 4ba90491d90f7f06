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
constexpr int kCardWidth = 620;
constexpr int kCardHeight = 330;
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

Picture paint_card(SDL_Renderer* renderer) {
  Painter painter(kCardWidth, kCardHeight);
  painter.rounded({4, 6, kCardWidth - 6, kCardHeight - 8}, 6, {0, 0, 0, 110});
  painter.rounded({0, 0, kCardWidth - 6, kCardHeight - 8}, 6, {240, 232, 210});
  painter.rect({24, 58, kCardWidth - 54, 2}, {170, 70, 58});
  for (double y = 96; y < kCardHeight - 60; y += 30) {
    painter.rect({24, y, kCardWidth - 54, 1}, {176, 186, 196});
  }
  return painter.picture(renderer);
}

std::string verdict(const StopRecord& record) {
  if (record.missed) return "missed";
  if (!record.served) return "not reached";
  if (record.left_early) return "left early";
  return lateness_text(record.late_s);
}

}  // namespace

Overlay::Overlay(SDL_Renderer* renderer)
    : strip_(paint_strip(renderer)), card_(paint_card(renderer)) {}

void Overlay::draw_strip(const View& view, Shine& shine) const {
  strip_.draw(view.renderer, 16, 12);
  view.text->draw({32, 30}, clock_text(view.shift().time_s()), {.size = 20});
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
    view.text->draw(
        {
            (from + to) / 2, kStrip_y + 12
    },
        "wet leaves", {.size = 8, .colour = {222, 156, 92}, .align = Align::centre});
  }
  for (const Stop& stop : kStops) {
    const double x = strip_x(view, stop.mark_m);
    if (!on_strip(x)) continue;
    view.fill({x - 4, kStrip_y - 5, 8, 12}, colour::kCream);
    view.text->draw({x, kStrip_y - 20}, stop.name, {.size = 8, .align = Align::centre});
  }
  for (std::size_t index = 0; index < kSignals.size(); ++index) {
    const double x = strip_x(view, kSignals[index].at_m);
    if (!on_strip(x)) continue;
    const Colour tint = colour_of(view.shift().signals().aspect(index, view.shift().time_s()));
    view.fill({x - 1, kStrip_y - 10, 2, 12}, colour::kFaintCream);
    shine.draw(view, {x, kStrip_y - 13}, 12, tint);
    shine.draw(view, {x, kStrip_y - 13}, 7, tint);
  }
  for (std::size_t index = 0; index < kWalkers; ++index) {
    const double x = strip_x(view, view.shift().people().at_m(index));
    if (!on_strip(x) || view.shift().people().state(index) != Walker::on_track) continue;
    view.fill({x - 2, kStrip_y - 6, 5, 13}, colour::kRed);
    view.text->draw({x, kStrip_y + 12}, "ring!",
                    {.size = 8, .colour = colour::kRed, .align = Align::centre});
  }
  view.fill({strip_x(view, view.front_m) - 14, kStrip_y - 4, 14, 10}, colour::kTramGreen);
  view.fill({strip_x(view, view.front_m) - 3, kStrip_y - 4, 3, 10}, colour::kCream);
}

void Overlay::draw_note(const View& view) const {
  const Note note = view.shift().note();
  if (note == Note::none || view.shift().finished()) return;
  const std::string_view words = text_of(note);
  const double width = view.text->width(words, 12) + 36;
  const double x = (kSceneWidth - width) / 2;
  view.fill({x, 92, width, 32}, {240, 232, 210, 235});
  view.fill({x, 92, 5, 32}, is_warning(note) ? Colour{190, 62, 48} : Colour{52, 120, 96});
  view.text->draw({kSceneWidth / 2.0, 102}, words,
                  {.size = 12, .colour = kInk, .align = Align::centre});
}

void Overlay::draw_report(const View& view) const {
  if (!view.shift().finished()) return;
  const double left = (kSceneWidth - kCardWidth) / 2.0;
  const double top = 110;
  card_.draw(view.renderer, left, top);
  const auto write = [&](double x, double y, std::string_view words, int size, Align align) {
    view.text->draw({left + x, top + y}, words, {.size = size, .colour = kInk, .align = align});
  };
  write(28, 24, "The night's report", 18, Align::left);
  write(kCardWidth - 34, 24,
        fmt::format("{} of {} points", view.shift().points(), 100 * kStops.size()), 14,
        Align::right);
  for (std::size_t index = 0; index < kStops.size(); ++index) {
    const StopRecord& record = view.shift().records()[index];
    const double y = 78 + 30.0 * static_cast<double>(index);
    write(28, y, kStops[index].name, 11, Align::left);
    if (record.served) {
      write(300, y, fmt::format("{:.1f} m off the mark", std::abs(record.mark_error_m)), 11,
            Align::right);
    }
    write(430, y, verdict(record), 11, Align::right);
    write(kCardWidth - 34, y, fmt::format("{}", points_for(record)), 11, Align::right);
  }
  const Tally& tally = view.shift().tally();
  write(28, kCardHeight - 62,
        fmt::format("signals passed at red {}   frights {}   rail brake {}   too fast {:.0f} s   "
                    "slipping {:.0f} s",
                    tally.reds_passed, tally.frights, tally.rail_brake_uses, tally.too_fast_s,
                    tally.slipping_s),
        9, Align::left);
  write(28, kCardHeight - 38, "Press doors for the next shift.", 11, Align::left);
}

void Overlay::draw(const View& view, Shine& shine) const {
  draw_strip(view, shine);
  draw_note(view);
  draw_report(view);
}

}  // namespace understudy::tram
