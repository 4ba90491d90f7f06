// Drops and flakes are numbered: where each is follows from its number and the time, so that
// nothing has to be remembered between frames.
#include "scenarios/tram/game/scene/air.h"

#include <cmath>

#include "scenarios/tram/game/rules/chance.h"

namespace understudy::tram {

namespace {

constexpr int kDrops = 190;
constexpr int kStreakKinds = 4;
constexpr int kFlakes = 230;
constexpr int kFlakeKinds = 4;
constexpr int kRings = 26;
constexpr double kBankWidth = 760;
constexpr double kBankHeight = 110;
constexpr int kVeil_y = 130;  // no roof is higher
constexpr Colour kFog{92, 98, 118};

Picture paint_far_fog(SDL_Renderer* renderer) {
  Painter painter(kSceneWidth, kRail_y);
  painter.gradient({0, 0, kSceneWidth, kRail_y}, {52, 58, 80}, {92, 98, 118});
  return painter.picture(renderer);
}

Picture paint_veil(SDL_Renderer* renderer) {
  Painter painter(kSceneWidth, kRail_y - kVeil_y);
  painter.gradient({0, 0, kSceneWidth, kRail_y - kVeil_y}, kFog.with_alpha(0),
                   kFog.with_alpha(175));
  return painter.picture(renderer);
}

Picture paint_bank(SDL_Renderer* renderer) {
  Painter painter(static_cast<int>(kBankWidth), static_cast<int>(kBankHeight));
  painter.glow({.width = kBankWidth, .height = kBankHeight}, {150, 156, 174, 84});
  return painter.picture(renderer);
}

double streak_length(int kind) {
  return 20.0 + 7.0 * kind;
}

Picture paint_streak(SDL_Renderer* renderer, int kind) {
  const double length = streak_length(kind);
  Painter painter(12, static_cast<int>(length) + 2);
  const int alpha = 40 + 22 * kind;
  painter.line({3 + length * 0.2, 1}, {2, length}, 1.2, Colour{190, 205, 235}.with_alpha(alpha));
  return painter.picture(renderer);
}

Picture paint_flake(SDL_Renderer* renderer, int kind) {
  const double radius = 1.2 + 0.55 * kind;
  Painter painter(10, 10);
  painter.glow({5, 5}, radius * 2.0, {232, 236, 246, static_cast<std::uint8_t>(120 + 20 * kind)});
  painter.disc({5, 5}, radius * 0.8, {240, 244, 250, static_cast<std::uint8_t>(110 + 30 * kind)});
  return painter.picture(renderer);
}

double wrapped(double value, double length) {
  return value - length * std::floor(value / length);
}

}  // namespace

Air::Air(SDL_Renderer* renderer)
    : far_fog_(paint_far_fog(renderer)), veil_(paint_veil(renderer)), bank_(paint_bank(renderer)) {
  for (int kind = 0; kind < kStreakKinds; ++kind) streaks_.push_back(paint_streak(renderer, kind));
  for (int kind = 0; kind < kFlakeKinds; ++kind) flakes_.push_back(paint_flake(renderer, kind));
}

void Air::draw_banks(const View& view, int banks, double amount, double pace) const {
  const double round = kSceneWidth + kBankWidth;
  for (int bank = 0; bank < banks; ++bank) {
    Chance chance(static_cast<std::uint64_t>(bank) + 300 + static_cast<std::uint64_t>(pace * 100));
    const double y = chance.between(180, kRail_y - 90);
    const double drift = view.now_s * chance.between(6, 14) - view.front_m * kPixelsPerMetre * pace;
    const double x = wrapped(chance.between(0, round) + drift, round) - kBankWidth;
    bank_.draw_over(view.renderer, {x, y, kBankWidth, kBankHeight}, colour::faded(amount));
  }
}

void Air::draw_far_fog(const View& view) const {
  const double fog = view.shift().weather().fog;
  if (fog <= 0.0) return;
  far_fog_.draw_covering(view.renderer, 0, 0, fog);
  draw_banks(view, 2, fog, 0.3);
}

void Air::draw_street_fog(const View& view) const {
  const double fog = view.shift().weather().fog;
  if (fog <= 0.0) return;
  veil_.draw_over(view.renderer, {0, kVeil_y, kSceneWidth, kRail_y - kVeil_y}, colour::faded(fog));
  draw_banks(view, 3, fog, 0.8);
}

void Air::draw_near_fog(const View& view) const {
  const double fog = view.shift().weather().fog;
  if (fog > 0.0) draw_banks(view, 2, fog, 1.2);
}

void Air::draw_rain(const View& view, double amount) const {
  const double wind = view.shift().motion().speed_mps * 0.9;
  for (int drop = 0; drop < static_cast<int>(kDrops * amount); ++drop) {
    Chance chance(static_cast<std::uint64_t>(drop) + 900);
    const double speed = chance.between(420, 700);
    const double height = kDesk_y + 60.0;
    const double fallen = std::fmod(chance.share() * height + view.now_s * speed, height);
    const double x = chance.between(0, kSceneWidth + 200) - fallen * (0.22 + wind * 0.012) -
                     view.front_m * kPixelsPerMetre * 0.25;
    const int kind = drop % kStreakKinds;
    if (fallen > kDesk_y - streak_length(kind)) continue;
    streaks_[static_cast<std::size_t>(kind)].draw(view.renderer, wrapped(x, kSceneWidth), fallen);
  }
}

void Air::draw_splashes(const View& view, double amount) const {
  for (int ring = 0; ring < static_cast<int>(kRings * amount); ++ring) {
    Chance chance(static_cast<std::uint64_t>(ring) + 70 +
                  1000u * static_cast<std::uint64_t>(view.now_s * 1.3 + ring * 0.17));
    const double age = std::fmod(view.now_s * 1.3 + ring * 0.17, 1.0);
    const double half = 2.0 + 9.0 * age;
    const Spot at{chance.between(0, kSceneWidth), chance.between(kRail_y + 22, kDesk_y - 6)};
    view.fill({at.x - half, at.y, 2.0 * half, 1},
              Colour{170, 185, 215, static_cast<std::uint8_t>(90 * (1.0 - age))});
  }
}

void Air::draw_snow(const View& view, double amount) const {
  for (int flake = 0; flake < static_cast<int>(kFlakes * amount); ++flake) {
    Chance chance(static_cast<std::uint64_t>(flake) + 1700);
    const int kind = flake % kFlakeKinds;
    const double near = 0.4 + 0.25 * kind;
    const double fallen =
        wrapped(chance.between(0, kDesk_y) + view.now_s * 62.0 * near, kDesk_y - 8.0);
    const double sway =
        9.0 * std::sin(view.now_s * chance.between(0.5, 1.2) + 6.28 * chance.share());
    const double x = chance.between(0, kSceneWidth) + sway - view.now_s * 14.0 * near -
                     view.front_m * kPixelsPerMetre * 0.35 * near;
    flakes_[static_cast<std::size_t>(kind)].draw(view.renderer, wrapped(x, kSceneWidth), fallen);
  }
}

void Air::draw_falling(const View& view) const {
  const Weather& weather = view.shift().weather();
  draw_rain(view, weather.rain);
  draw_splashes(view, weather.rain);
  draw_snow(view, weather.snow);
}

}  // namespace understudy::tram
