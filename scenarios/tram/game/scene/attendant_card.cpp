// Lays the advice of attendant_words.h out as a card of paper in the corner of the street.
#include "scenarios/tram/game/scene/attendant_card.h"

#include <fmt/format.h>

#include "scenarios/tram/game/attendant_words.h"

namespace understudy::tram {

namespace {

constexpr int kWidth = 420;
constexpr int kHeight = 158;
constexpr double kLeft = 16;
constexpr double kTop = 92;
constexpr double kStarting_s = 3.0;  // a board that restarts is silent for a second or two
constexpr Colour kInk{44, 42, 40};

Picture paint_attendant_card(SDL_Renderer* renderer) {
  Painter painter(kWidth, kHeight);
  painter.rounded({3, 5, kWidth - 4, kHeight - 6}, 6, {0, 0, 0, 110});
  painter.rounded({0, 0, kWidth - 4, kHeight - 6}, 6, {240, 232, 210});
  painter.rounded({0, 0, 7, kHeight - 6}, 3, {206, 138, 40});
  painter.rect({20, 59, kWidth - 44, 1.2}, {176, 170, 150});
  return painter.picture(renderer);
}

}  // namespace

AttendantCard::AttendantCard(SDL_Renderer* renderer) : card_(paint_attendant_card(renderer)) {}

void AttendantCard::draw(const View& view) const {
  const PanelReading& reading = view.game->panel();
  const Advice advice = advice_for(reading);
  const bool may_start = reading.link == PanelLink::silent;
  if (advice.steps.empty() || view.shift().finished()) return;
  if (may_start && view.game->not_fresh_for_s() < kStarting_s) return;
  card_.draw(view.renderer, kLeft, kTop);
  const auto write = [&](double x, double y, std::string_view words, int size) {
    view.text->draw({kLeft + x, kTop + y}, words, {.size = size, .colour = kInk});
  };
  write(20, 14, advice.how_it_is, 14);
  write(20, 38, advice.meaning, 11);
  double y = 72;
  for (std::size_t step = 0; step < advice.steps.size(); ++step, y += 26) {
    write(20, y, fmt::format("{}", step + 1), 11);
    write(40, y, advice.steps[step], 11);
  }
}

}  // namespace understudy::tram
