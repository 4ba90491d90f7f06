// What every part of the scene needs to draw one frame: where things are on the screen, and the
// colours that all parts share.
#pragma once

#include <SDL.h>

#include <map>
#include <utility>

#include "scenarios/tram/game/draw/painter.h"
#include "scenarios/tram/game/draw/text.h"
#include "scenarios/tram/game/game.h"

namespace understudy::tram {

constexpr int kSceneWidth = 1280;
constexpr int kSceneHeight = 720;
constexpr int kRail_y = 452;  // top of the rail, where the wheels stand
constexpr int kDesk_y = 556;  // below this, the desk with its dials
constexpr int kWire_y = kRail_y - 130;
constexpr double kFront_x = 640.0;  // where the tram's front is drawn
constexpr double kPixelsPerMetre = 24.0;

namespace colour {
constexpr Colour kLamplight{255, 206, 128};
constexpr Colour kWindow{248, 205, 128};
constexpr Colour kCream{236, 228, 204};
constexpr Colour kFaintCream{168, 172, 158};
constexpr Colour kEnamel{34, 66, 58};
constexpr Colour kTramGreen{28, 92, 92};
constexpr Colour kDark{12, 15, 28};
constexpr Colour kRed{255, 74, 58};
constexpr Colour kAmber{255, 176, 46};
constexpr Colour kGreen{78, 222, 128};
constexpr Colour kWhite{255, 250, 232};
constexpr Colour kSnow{206, 214, 232};
// A picture's own colours, let through by a share from 0 to 1.
inline Colour faded(double share) {
  return Colour{255, 255, 255}.with_alpha(static_cast<int>(255.0 * share));
}
}  // namespace colour

struct View {
  SDL_Renderer* renderer;
  Text* text;
  const Game* game;
  double front_m;  // of the tram, smoothed between steps
  double now_s;    // since the picture began; for rain and ripples
  bool sound_on;

  double x_of(double position_m) const {
    return kFront_x + (position_m - front_m) * kPixelsPerMetre;
  }
  // Whether anything of `width` pixels that begins at x can be seen.
  static bool visible(double x, double width) { return x < kSceneWidth && x + width > 0.0; }
  const Shift& shift() const { return game->shift(); }

  void fill(const Box& box, Colour colour) const {
    SDL_SetRenderDrawBlendMode(renderer, SDL_BLENDMODE_BLEND);
    SDL_SetRenderDrawColor(renderer, colour.red, colour.green, colour.blue, colour.alpha);
    const SDL_FRect rect{static_cast<float>(box.x), static_cast<float>(box.y),
                         static_cast<float>(box.width), static_cast<float>(box.height)};
    SDL_RenderFillRectF(renderer, &rect);
  }
};

// A white spot that fades outwards, to be tinted and added wherever something shines. Each size is
// painted once, when it is first asked for: copying at the right size is far quicker than
// stretching.
class Shine {
 public:
  explicit Shine(SDL_Renderer* renderer) : renderer_(renderer) {}
  void draw(const View& view, Spot centre, double radius, Colour colour);
  // Wider than high, as light on a wet road.
  void draw_flat(const View& view, Spot centre, const Box& size, Colour colour);

 private:
  SDL_Renderer* renderer_;
  std::map<std::pair<int, int>, Picture> spots_;
};

Colour colour_of(Aspect aspect);

}  // namespace understudy::tram
