// Lays the numbers of score.h out as a card: a line for each stop, one for the way, one for the
// sum.
#include "scenarios/tram/game/scene/report.h"

#include <fmt/format.h>

#include <cmath>

#include "scenarios/tram/game/words.h"

namespace understudy::tram {

namespace {

constexpr int kWidth = 860;
constexpr int kHeight = 416;
constexpr double kLeft = (kSceneWidth - kWidth) / 2.0;
constexpr double kTop = 104;
constexpr double kFirstRow_y = 92;
constexpr double kRow = 31;
constexpr double kWay_y = 304;
constexpr Colour kInk{44, 42, 40};
constexpr Colour kFaintInk{116, 108, 96};
constexpr Colour kRedInk{170, 56, 44};

// Right ends of the columns.
constexpr double kMark_x = 330;
constexpr double kTime_x = 486;
constexpr double kWarmth_x = 610;
constexpr double kEverybody_x = 726;
constexpr double kPoints_x = kWidth - 34;

Picture paint_report_card(SDL_Renderer* renderer) {
  Painter painter(kWidth, kHeight);
  painter.rounded({4, 6, kWidth - 6, kHeight - 8}, 6, {0, 0, 0, 110});
  painter.rounded({0, 0, kWidth - 6, kHeight - 8}, 6, {240, 232, 210});
  painter.rect({24, 54, kWidth - 54, 2}, {170, 70, 58});
  for (std::size_t row = 0; row < kStops.size(); ++row) {
    painter.rect({24, kFirstRow_y + 20 + kRow * static_cast<double>(row), kWidth - 54, 1},
                 {190, 194, 192});
  }
  painter.rect({24, kHeight - 62, kWidth - 54, 2}, {170, 70, 58});
  return painter.picture(renderer);
}

void write(const View& view, Spot at, std::string_view words, const TextStyle& style) {
  view.text->draw({kLeft + at.x, kTop + at.y}, words, style);
}

std::string verdict(const StopRecord& record) {
  if (record.missed) return "missed";
  if (!record.served) return "not reached";
  if (record.left_early) return "left early";
  return lateness_text(record.late_s);
}

std::string less(int points) {
  return points == 0 ? "0" : fmt::format("-{}", points);
}

// A number, and before it in small what it was given for.
void cell(const View& view, Spot right, int points, std::string_view what) {
  write(view, right, fmt::format("{}", points),
        {.size = 12, .colour = kInk, .align = Align::right});
  write(view, {right.x - 34, right.y + 2}, what,
        {.size = 9, .colour = kFaintInk, .align = Align::right});
}

}  // namespace

Report::Report(SDL_Renderer* renderer) : card_(paint_report_card(renderer)) {}

void Report::draw_stop(const View& view, std::size_t index) const {
  const StopRecord& record = view.shift().records()[index];
  const StopPoints points = points_for(record);
  const double y = kFirstRow_y + kRow * static_cast<double>(index);
  write(view, {28, y}, kStops[index].name, {.size = 12, .colour = kInk});
  if (record.served) {
    cell(view, {kMark_x, y}, points.mark, fmt::format("{:.1f} m", std::abs(record.mark_error_m)));
    cell(view, {kTime_x, y}, points.time, verdict(record));
    cell(view, {kWarmth_x, y}, points.warmth, record.warm ? "warm" : "not warm");
    cell(view, {kEverybody_x, y}, points.everybody,
         record.left_behind == 0 ? "all" : fmt::format("{} left", record.left_behind));
  } else {
    write(view, {kTime_x, y + 2}, verdict(record),
          {.size = 10, .colour = kRedInk, .align = Align::right});
  }
  write(view, {kPoints_x, y}, fmt::format("{}", points.sum()),
        {.size = 12, .colour = kInk, .align = Align::right});
}

void Report::draw_way(const View& view) const {
  const Tally& tally = view.shift().tally();
  const Deductions cost = deductions_for(tally);
  const struct {
    std::string what;
    int points;
  } items[] = {
      {fmt::format("red signals {}", tally.reds_passed), cost.reds},
      {fmt::format("frights {}", tally.frights), cost.frights},
      {fmt::format("rail brake {}", tally.rail_brake_uses), cost.rail_brake},
      {fmt::format("too fast {:.0f} s", tally.too_fast_s), cost.too_fast},
      {fmt::format("wheels slip {:.0f} s", tally.slipping_s), cost.slipping},
  };
  write(view, {28, kWay_y}, "On the way", {.size = 12, .colour = kInk});
  double x = 150;
  for (const auto& item : items) {
    const Colour ink = item.points > 0 ? kRedInk : kFaintInk;
    write(view, {x, kWay_y - 4}, item.what, {.size = 10, .colour = kFaintInk});
    write(view, {x, kWay_y + 12}, less(item.points), {.size = 11, .colour = ink});
    x += 122;
  }
  write(view, {kPoints_x, kWay_y}, less(cost.sum()),
        {.size = 12, .colour = cost.sum() > 0 ? kRedInk : kInk, .align = Align::right});
}

void Report::draw_sum(const View& view) const {
  const double y = kHeight - 46;
  write(view, {28, y + 4},
        view.game->attract() ? "The tram drove itself." : "Press doors for the next shift.",
        {.size = 11, .colour = kFaintInk});
  write(view, {kPoints_x, y},
        fmt::format("{} of {} points", view.shift().points(), 100 * kStops.size()),
        {.size = 18, .colour = kInk, .align = Align::right});
}

void Report::draw(const View& view) const {
  if (!view.shift().finished()) return;
  card_.draw(view.renderer, kLeft, kTop);
  write(view, {28, 22}, "The night's report", {.size = 18, .colour = kInk});
  const struct {
    double x;
    std::string_view words;
  } heads[] = {
      {kMark_x, "at the mark, of 30"},     {kTime_x, "on time, of 30"}, {kWarmth_x, "warm, of 20"},
      {kEverybody_x, "all aboard, of 20"}, {kPoints_x, "points"},
  };
  for (const auto& head : heads) {
    write(view, {head.x, 68}, head.words, {.size = 9, .colour = kFaintInk, .align = Align::right});
  }
  for (std::size_t index = 0; index < kStops.size(); ++index) draw_stop(view, index);
  draw_way(view);
  draw_sum(view);
}

}  // namespace understudy::tram
