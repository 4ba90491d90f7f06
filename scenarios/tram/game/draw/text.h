// Text on the picture: our own stroke letters, painted once per size and then copied.
#pragma once

#include <SDL.h>

#include <array>
#include <map>
#include <string_view>

#include "scenarios/tram/game/draw/painter.h"

namespace understudy::tram {

enum class Align { left, centre, right };

struct TextStyle {
  int size = 14;  // height of a capital in pixels
  Colour colour{235, 228, 205};
  Align align = Align::left;
};

class Text {
 public:
  explicit Text(SDL_Renderer* renderer) : renderer_(renderer) {}

  // `at` is the top of the capitals; left end, middle or right end as the style says.
  void draw(Spot at, std::string_view words, const TextStyle& style);
  double width(std::string_view words, int size);

 private:
  static constexpr int kFirst = 32;
  static constexpr int kCount = 95;
  struct Letter {
    int x = 0;
    int width = 0;
    double advance = 0.0;
  };
  struct Sheet {
    Picture picture;
    std::array<Letter, kCount> letters;
  };

  const Sheet& sheet_for(int size);
  static Sheet paint_sheet(SDL_Renderer* renderer, int size);
  static std::size_t index_of(char character);

  SDL_Renderer* renderer_;
  std::map<int, Sheet> sheets_;
};

}  // namespace understudy::tram
