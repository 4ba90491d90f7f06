// Paints the tram once in layers: saloon light behind, passengers, then the body with its windows
// left open. Lengths in pixels; x from the tram's rear end, y from its highest point.
#include "scenarios/tram/game/scene/tram_body.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace understudy::tram {

namespace {

constexpr int kLength = 504;  // 21 m
constexpr int kHeight = 132;
constexpr double kRoof_y = 44;
constexpr double kWindow_y = 60;
constexpr double kWindowHeight = 30;
constexpr double kSkirt_y = 118;
constexpr double kWheelRadius = 10;
constexpr double kDoorWidth = 38;
constexpr std::array<double, 3> kDoors_x = {96, 240, 372};
constexpr std::array<double, 6> kWheels_x = {52, 80, 196, 308, 430, 458};

struct Pane {
  double x;
  double width;
};
constexpr std::array<Pane, 8> kPanes = {
    {{14, 36}, {54, 36}, {140, 44}, {188, 46}, {284, 40}, {328, 38}, {416, 34}, {454, 24}}};

Picture paint_body(SDL_Renderer* renderer) {
  Painter painter(kLength, kHeight);
  const Colour dark = mix(colour::kTramGreen, colour::kDark, 0.55);
  const double band = kWindow_y + kWindowHeight;
  painter.rounded({40, kRoof_y - 8, 130, 12}, 4, {46, 52, 60});  // boxes on the roof
  painter.rounded({300, kRoof_y - 8, 110, 12}, 4, {46, 52, 60});
  painter.line({232, 38}, {268, 20}, 3, {74, 78, 88});  // the pantograph
  painter.line({268, 20}, {238, 4}, 3, {74, 78, 88});
  painter.line({220, 3}, {256, 3}, 3, {120, 124, 134});
  painter.rounded({0, kRoof_y, kLength, 18}, 9, {176, 172, 152});
  painter.rounded({2, kRoof_y + 9, kLength - 4, 8}, 4, colour::kCream);
  // Window posts: what is left of the band when the panes and doors are open.
  double from = 0;
  std::array<Pane, 11> open{};
  std::copy(kPanes.begin(), kPanes.end(), open.begin());
  for (std::size_t i = 0; i < kDoors_x.size(); ++i) open[8 + i] = {kDoors_x[i], kDoorWidth};
  std::sort(open.begin(), open.end(), [](const Pane& a, const Pane& b) { return a.x < b.x; });
  for (const Pane& pane : open) {
    painter.rect({from, kWindow_y - 2, pane.x - from, kWindowHeight + 4}, dark);
    from = pane.x + pane.width;
  }
  painter.rect({from, kWindow_y - 2, 482 - from, kWindowHeight + 4}, dark);
  from = 0;
  for (const double door : kDoors_x) {
    painter.gradient({from, band, door - from, kSkirt_y - band}, colour::kTramGreen, dark);
    painter.rect({from, band + 3, door - from, 4}, colour::kCream);
    from = door + kDoorWidth;
  }
  painter.gradient({from, band, 494 - from, kSkirt_y - band}, colour::kTramGreen, dark);
  painter.rect({from, band + 3, 494 - from, 4}, colour::kCream);
  painter.polygon({{478, 58}, {488, 58}, {503, 96}, {503, 110}, {497, 118}, {478, 118}},
                  colour::kTramGreen);
  painter.polygon({{482, 62}, {487, 62}, {497, 90}, {482, 90}}, {66, 92, 116});  // windscreen
  painter.rect({478, band + 3, 24, 4}, colour::kCream);
  for (const double joint : {90.0, 279.0}) painter.rect({joint, kRoof_y + 6, 4, 72}, {18, 24, 30});
  painter.rounded({4, kSkirt_y - 4, 494, 6}, 3, {16, 22, 28});
  for (std::size_t i = 0; i < kWheels_x.size(); ++i) {
    painter.rounded({kWheels_x[i] - 15, kSkirt_y - 8, 30, 14}, 5, {14, 18, 24});
  }
  painter.disc({497, 108}, 4, colour::kWhite);
  painter.rounded({4, 100, 5, 10}, 2, {150, 40, 36});
  painter.rounded({428, 47, 62, 13}, 3, {16, 16, 18});  // where it says where it goes
  return painter.picture(renderer);
}

Picture paint_saloon(SDL_Renderer* renderer) {
  Painter painter(kLength, kHeight);
  painter.gradient({6, kWindow_y - 4, 474, 64}, {255, 226, 160}, {196, 142, 86});
  for (double x = 24; x < 480; x += 31) painter.rect({x, kWindow_y - 4, 2, 60}, {150, 110, 70});
  painter.rect({6, kWindow_y - 2, 474, 3}, colour::kWhite);
  return painter.picture(renderer);
}

Picture paint_passenger(SDL_Renderer* renderer) {
  Painter painter(22, 30);
  painter.disc({11, 8}, 6, {72, 50, 46});
  painter.rounded({2, 14, 18, 24}, 7, {64, 50, 62});
  return painter.picture(renderer);
}

Picture paint_leaf(SDL_Renderer* renderer) {
  Painter painter(static_cast<int>(kDoorWidth / 2), 60);
  painter.rounded({0.5, 0, kDoorWidth / 2 - 1, 60}, 2, {24, 74, 76});
  painter.rounded({4, 4, kDoorWidth / 2 - 8, 40}, 2, {236, 196, 130, 190});
  return painter.picture(renderer);
}

Picture paint_wheel(SDL_Renderer* renderer) {
  Painter painter(24, 24);
  painter.disc({12, 12}, kWheelRadius, {70, 74, 84});
  painter.disc({12, 12}, kWheelRadius - 3, {28, 32, 40});
  painter.line({12, 5}, {12, 19}, 2, {84, 88, 98});
  painter.line({5, 12}, {19, 12}, 2, {84, 88, 98});
  return painter.picture(renderer);
}

Picture paint_beam(SDL_Renderer* renderer) {
  Painter painter(420, 90);
  for (int x = 0; x < 420; ++x) {
    const double fade = (1.0 - x / 420.0) * (1.0 - x / 420.0);
    const double half = 4.0 + x * 0.09;
    for (int ring = 0; ring < 4; ++ring) {
      const double part = half * (1.0 - ring * 0.22);
      painter.rect({x + 0.0, 24 + x * 0.06 - part, 1, 2 * part},
                   colour::kLamplight.with_alpha(static_cast<int>(30 * fade)));
    }
  }
  return painter.picture(renderer, Painter::Blend::add);
}

constexpr double kBrakeLightSwells_s = 0.35;
constexpr double kLeft = kFront_x - kLength;
constexpr double kTop = kRail_y - kHeight;

}  // namespace

TramBody::TramBody(SDL_Renderer* renderer)
    : saloon_(paint_saloon(renderer)),
      passenger_(paint_passenger(renderer)),
      body_(paint_body(renderer)),
      leaf_(paint_leaf(renderer)),
      wheel_(paint_wheel(renderer)),
      beam_(paint_beam(renderer)) {}

void TramBody::draw_passengers(const View& view) const {
  const int aboard = std::min(view.shift().passengers(), 16);
  for (int person = 0; person < aboard; ++person) {
    const Pane& pane = kPanes[static_cast<std::size_t>(person * 5 % 8)];
    const double x = kLeft + pane.x + (person < 8 ? 1 : 17);
    passenger_.draw(view.renderer, std::min(x, kLeft + pane.x + pane.width - 20),
                    kTop + kWindow_y + 4);
  }
}

void TramBody::draw_doors(const View& view) const {
  const double slide = view.shift().doors().opening_share() * (kDoorWidth / 2 - 2);
  for (const double door : kDoors_x) {
    leaf_.draw(view.renderer, kLeft + door - slide, kTop + kWindow_y - 2);
    leaf_.draw(view.renderer, kLeft + door + kDoorWidth / 2 + slide, kTop + kWindow_y - 2);
  }
}

void TramBody::draw_wheels(const View& view, double seconds) {
  const double radius_m = kWheelRadius / kPixelsPerMetre;
  wheel_turn_ += view.shift().motion().wheel_mps * seconds / radius_m * 57.29578;
  wheel_turn_ = std::fmod(wheel_turn_, 360.0);
  for (const double x : kWheels_x) {
    const SDL_Rect to{static_cast<int>(kLeft + x) - 12,
                      static_cast<int>(kRail_y - kWheelRadius) - 12, 24, 24};
    SDL_RenderCopyEx(view.renderer, wheel_.texture.get(), nullptr, &to, wheel_turn_, nullptr,
                     SDL_FLIP_NONE);
  }
}

void TramBody::draw_lights(const View& view, Shine& shine) const {
  beam_.draw(view.renderer, kFront_x - 6, kTop + 84);
  shine.draw(view, {kFront_x - 7, kTop + 108}, 26, colour::kWhite.with_alpha(220));
  // Two lights, so that the brake's can swell and fade: a handle that trembles makes no flicker.
  shine.draw(view, {kLeft + 6, kTop + 105}, 16, colour::kRed.with_alpha(120));
  shine.draw(view, {kLeft + 6, kTop + 105}, 34,
             colour::kRed.with_alpha(static_cast<int>(200 * brake_light_)));
  shine.draw_flat(view, {kLeft + kLength / 2.0, kTop + 84}, {.width = 640, .height = 150},
                  colour::kLamplight.with_alpha(34));
}

void TramBody::draw_sand(const View& view) const {
  if (!view.shift().sanding() || view.shift().motion().speed_mps <= 0.0) return;
  for (const double x : kWheels_x) {
    for (int grain = 0; grain < 7; ++grain) {
      const double fall = std::fmod(view.now_s * 3.0 + grain * 0.143, 1.0);
      view.fill({kLeft + x + 13 - fall * 16, kRail_y - 9 + fall * 9, 2, 2}, {214, 190, 138, 170});
    }
  }
}

void TramBody::draw(const View& view, Shine& shine) {
  const double seconds = std::clamp(view.now_s - drawn_at_s_, 0.0, 0.1);
  drawn_at_s_ = view.now_s;
  const double wanted = view.shift().demand().brake > 0.0 ? 1.0 : 0.0;
  brake_light_ += (wanted - brake_light_) * seconds / kBrakeLightSwells_s;
  saloon_.draw(view.renderer, kLeft, kTop);
  draw_passengers(view);
  draw_doors(view);
  body_.draw(view.renderer, kLeft, kTop);
  view.fill({kLeft + 8, kTop + kRoof_y - 1, kLength - 22, 4},
            colour::kSnow.with_alpha(static_cast<int>(200 * view.shift().weather().snow)));
  draw_wheels(view, seconds);
  view.text->draw({kLeft + 459, kTop + 50}, "7  DEPOT",
                  {.size = 7, .colour = colour::kAmber, .align = Align::centre});
  draw_sand(view);
  draw_lights(view, shine);
}

}  // namespace understudy::tram
