// Paints shelter, mark, signal and people once, and puts them where the line's table says.
#include "scenarios/tram/game/scene/trackside.h"

#include <algorithm>
#include <cmath>

#include "scenarios/tram/game/rules/chance.h"

namespace understudy::tram {

namespace {

constexpr double kPlatform_y = kRail_y - 6;
constexpr double kNearPlatform_y = kRail_y + 22;
constexpr int kPeopleKinds = 6;
constexpr double kLensOfRed_y = 12;
constexpr double kLensStep = 17;

Picture paint_shelter(SDL_Renderer* renderer) {
  Painter painter(190, 92);
  const Colour frame{40, 48, 58};
  painter.rect({16, 16, 158, 72}, {150, 180, 190, 34});
  painter.gradient({16, 16, 158, 30}, {255, 232, 180, 70}, {255, 232, 180, 10});
  for (const double x : {14.0, 92.0, 170.0}) painter.rect({x, 12, 4, 80}, frame);
  painter.rounded({4, 6, 182, 10}, 4, frame);
  painter.rect({18, 15, 154, 2}, colour::kWhite);
  painter.rounded({30, 66, 110, 5}, 2, {92, 66, 48});
  painter.rect({40, 71, 4, 20}, frame);
  painter.rect({126, 71, 4, 20}, frame);
  return painter.picture(renderer);
}

Picture paint_mark(SDL_Renderer* renderer) {
  Painter painter(40, 130);
  painter.rect({18, 36, 4, 94}, {58, 62, 74});
  painter.disc({20, 22}, 19, {20, 74, 66});
  painter.ring({20, 22}, 16, 2.5, colour::kCream);
  painter.line({13, 14}, {13, 30}, 3.5, colour::kCream);
  painter.line({27, 14}, {27, 30}, 3.5, colour::kCream);
  painter.line({13, 22}, {27, 22}, 3.5, colour::kCream);
  return painter.picture(renderer);
}

Picture paint_signal(SDL_Renderer* renderer) {
  Painter painter(36, 150);
  painter.rect({16, 58, 4, 92}, {50, 54, 66});
  painter.rounded({6, 0, 24, 60}, 9, {14, 16, 22});
  for (int lens = 0; lens < 3; ++lens) {
    painter.disc({18, kLensOfRed_y + lens * kLensStep}, 7, {34, 36, 44});
  }
  return painter.picture(renderer);
}

Picture paint_board(SDL_Renderer* renderer) {
  Painter painter(40, 110);
  painter.rect({18, 36, 4, 74}, {58, 62, 74});
  painter.rounded({2, 4, 36, 34}, 6, {226, 190, 84});
  painter.rounded({5, 7, 30, 28}, 4, {28, 26, 24});
  return painter.picture(renderer);
}

Picture paint_person(SDL_Renderer* renderer, int kind) {
  Painter painter(44, 66);
  Chance chance(static_cast<std::uint64_t>(kind) + 60);
  const Colour coat = mix({58, 52, 72}, {110, 70, 60}, chance.share());
  const double x = 20;
  painter.line({x - 3, 46}, {x - 4, 64}, 4, {22, 22, 30});
  painter.line({x + 3, 46}, {x + 4, 64}, 4, {22, 22, 30});
  painter.polygon({{x - 5, 27}, {x + 5, 27}, {x + 8, 51}, {x - 8, 51}}, coat);
  painter.disc({x, 22}, 4.5, {186, 146, 118});
  painter.disc({x, 20}, 4.6, {44, 34, 34});
  if (kind % 3 != 2) {  // an umbrella
    const Colour cloth = mix({150, 62, 58}, {60, 96, 120}, chance.share());
    painter.line({x + 5, 38}, {x + 5, 10}, 1.6, {30, 30, 36});
    painter.polygon({{x - 14, 16}, {x - 8, 8}, {x + 5, 4}, {x + 18, 8}, {x + 23, 16}}, cloth);
  }
  return painter.picture(renderer);
}

}  // namespace

Trackside::Trackside(SDL_Renderer* renderer)
    : shelter_(paint_shelter(renderer)),
      mark_(paint_mark(renderer)),
      signal_(paint_signal(renderer)),
      board_(paint_board(renderer)) {
  for (int kind = 0; kind < kPeopleKinds; ++kind) people_.push_back(paint_person(renderer, kind));
}

void Trackside::draw_stop(const View& view, Shine& shine, std::size_t index) const {
  const double mark_x = view.x_of(kStops[index].mark_m);
  if (!View::visible(mark_x - 560, 640)) return;
  view.fill({mark_x - 540, kPlatform_y - 4, 560, 7}, {84, 86, 98});
  view.fill({mark_x - 540, kPlatform_y + 1, 560, 2}, {196, 176, 110});
  const double shelter_x = mark_x - 330;
  shelter_.draw(view.renderer, shelter_x, kPlatform_y - 2 - shelter_.height);
  const Colour snow = colour::kSnow.with_alpha(static_cast<int>(225 * view.shift().weather().snow));
  view.fill({mark_x - 540, kPlatform_y - 6, 560, 4}, snow);
  view.fill({shelter_x + 5, kPlatform_y - 90, 180, 5}, snow);
  shine.draw_flat(view, {shelter_x + 95, kPlatform_y - 44}, {.width = 260, .height = 130},
                  colour::kLamplight.with_alpha(70));
  view.fill({mark_x - 450, kPlatform_y - 100, 3, 96}, {58, 62, 74});
  const double name_width = view.text->width(kStops[index].name, 11) + 20;
  view.fill({mark_x - 456, kPlatform_y - 112, name_width, 22}, {20, 74, 66});
  view.text->draw({mark_x - 446, kPlatform_y - 106}, kStops[index].name, {.size = 11});
  mark_.draw(view.renderer, mark_x - 20, kPlatform_y + 4 - mark_.height);
}

void Trackside::draw_signal(const View& view, Shine& shine, std::size_t index) const {
  const double x = view.x_of(kSignals[index].at_m);
  if (!View::visible(x - 80, 160)) return;
  const double top = kRail_y - 4 - signal_.height;
  signal_.draw(view.renderer, x - 18, top);
  view.fill({x - 2, kRail_y - 2, 4, 8}, colour::kCream);
  const Aspect aspect = view.shift().signals().aspect(index, view.shift().time_s());
  const int lens = aspect == Aspect::red ? 0 : aspect == Aspect::amber ? 1 : 2;
  const Spot light{x, top + kLensOfRed_y + lens * kLensStep};
  const Colour tint = colour_of(aspect);
  shine.draw(view, light, 52, tint.with_alpha(120));
  shine.draw(view, light, 13, tint);
  shine.draw(view, light, 9, tint);
}

void Trackside::draw_speed_board(const View& view, double at_m, const char* words) const {
  const double x = view.x_of(at_m);
  if (!View::visible(x - 20, 40)) return;
  board_.draw(view.renderer, x - 20, kPlatform_y - board_.height);
  view.text->draw({x, kPlatform_y - board_.height + 16}, words,
                  {.size = 11, .colour = colour::kCream, .align = Align::centre});
}

void Trackside::draw_walkers(const View& view) const {
  const People& people = view.shift().people();
  for (std::size_t index = 0; index < kWalkers; ++index) {
    const Walker state = people.state(index);
    if (state != Walker::on_track && state != Walker::leaving) continue;
    const double aside = 34.0 * people.left_share(index);
    const Picture& figure = people_[index % people_.size()];
    const double x = view.x_of(people.at_m(index)) - 20 + aside * 0.4;
    figure.draw(view.renderer, x, kRail_y + 3 + aside - figure.height);
  }
}

void Trackside::draw_platform(const View& view, std::size_t index) const {
  const double mark_x = view.x_of(kStops[index].mark_m);
  if (!View::visible(mark_x - 560, 640)) return;
  view.fill({mark_x - 540, kNearPlatform_y, 560, 9}, {74, 76, 90});
  view.fill({mark_x - 540, kNearPlatform_y, 560, 2}, {206, 184, 116});
  view.fill({mark_x - 540, kNearPlatform_y + 9, 560, 4}, {30, 32, 44});
  view.fill({mark_x - 540, kNearPlatform_y, 560, 6},
            colour::kSnow.with_alpha(static_cast<int>(215 * view.shift().weather().snow)));
  for (int person = 0; person < view.shift().waiting(index); ++person) {
    const Picture& figure =
        people_[static_cast<std::size_t>(person + static_cast<int>(index)) % people_.size()];
    const double x = mark_x - 430 + person * 58 + (person * 37 % 11);
    figure.draw(view.renderer, x, kNearPlatform_y + 2 - figure.height);
  }
}

void Trackside::draw_before_tram(const View& view) const {
  for (std::size_t index = 0; index < kStops.size(); ++index) draw_platform(view, index);
  draw_walkers(view);
}

void Trackside::draw_behind_tram(const View& view, Shine& shine) const {
  for (std::size_t index = 0; index < kStops.size(); ++index) draw_stop(view, shine, index);
  draw_speed_board(view, kSlowStretch.from_m, "30");
  draw_speed_board(view, kSlowStretch.to_m, "50");
  for (std::size_t index = 0; index < kSignals.size(); ++index) draw_signal(view, shine, index);
}

}  // namespace understudy::tram
