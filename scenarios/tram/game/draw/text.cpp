// Rounds the strokes, paints all letters of a size onto one sheet, copies them letter by letter.
#include "scenarios/tram/game/draw/text.h"

#include <algorithm>
#include <cmath>
#include <vector>

#include "scenarios/tram/game/draw/glyphs.h"

namespace understudy::tram {

namespace {

constexpr double kUnitsHigh = 10.0;  // of a capital
constexpr double kNarrow = 0.72;     // width of a unit over its height
constexpr double kPen = 0.115;       // thickness of the pen over the height of a capital
constexpr double kGap = 3.0;         // between letters, in units
constexpr double kSpace = 4.5;
constexpr int kMargin = 3;

using Stroke = std::vector<Spot>;

double digit(char character) {
  return character >= 'a' ? character - 'a' + 10.0 : character - '0' + 0.0;
}

// Cuts each corner at a quarter of its sides, three times over (Chaikin): close to a smooth curve.
Stroke rounded(Stroke points, bool closed) {
  for (int round = 0; round < 3; ++round) {
    Stroke next;
    if (!closed) next.push_back(points.front());
    const std::size_t sides = closed ? points.size() : points.size() - 1;
    for (std::size_t i = 0; i < sides; ++i) {
      const Spot a = points[i];
      const Spot b = points[(i + 1) % points.size()];
      next.push_back({a.x * 0.75 + b.x * 0.25, a.y * 0.75 + b.y * 0.25});
      next.push_back({a.x * 0.25 + b.x * 0.75, a.y * 0.25 + b.y * 0.75});
    }
    if (!closed) next.push_back(points.back());
    points = std::move(next);
  }
  if (closed) points.push_back(points.front());
  return points;
}

std::vector<Stroke> read_strokes(std::string_view text) {
  std::vector<Stroke> strokes;
  while (!text.empty()) {
    const std::string_view word = text.substr(0, text.find(' '));
    text.remove_prefix(std::min(text.size(), word.size() + 1));
    const bool closed = word.front() == 'o';
    const bool curved = closed || word.front() == '~';
    Stroke points;
    for (std::size_t i = curved ? 1 : 0; i + 1 < word.size(); i += 2) {
      points.push_back({digit(word[i]), digit(word[i + 1])});
    }
    strokes.push_back(curved ? rounded(points, closed) : points);
  }
  return strokes;
}

double widest(const std::vector<Stroke>& strokes) {
  double width = 0.0;
  for (const Stroke& stroke : strokes) {
    for (const Spot& spot : stroke) width = std::max(width, spot.x);
  }
  return width;
}

}  // namespace

std::size_t Text::index_of(char character) {
  const int index = static_cast<unsigned char>(character) - kFirst;
  return static_cast<std::size_t>(index >= 0 && index < kCount ? index : '~' - kFirst);
}

Text::Sheet Text::paint_sheet(SDL_Renderer* renderer, int size) {
  const double unit = size / kUnitsHigh;
  std::array<Letter, kCount> letters;
  std::array<std::vector<Stroke>, kCount> shapes;
  int x = 0;
  for (int i = 0; i < kCount; ++i) {
    const auto index = static_cast<std::size_t>(i);
    shapes[index] = read_strokes(strokes_of(static_cast<char>(kFirst + i)));
    const double wide = i == 0 ? kSpace - kGap : widest(shapes[index]);
    const int pixels = static_cast<int>(std::ceil(wide * unit * kNarrow)) + 2 * kMargin;
    letters[index] = {
        .x = x, .width = pixels, .advance = std::round((wide + kGap) * unit * kNarrow)};
    x += pixels;
  }
  Painter painter(x, static_cast<int>(std::ceil(unit * 13.5)) + 2 * kMargin);
  const double pen = std::max(1.25, kPen * size);
  for (std::size_t i = 0; i < letters.size(); ++i) {
    const auto place = [&](Spot spot) {
      return Spot{letters[i].x + kMargin + spot.x * unit * kNarrow, kMargin + spot.y * unit};
    };
    for (const Stroke& stroke : shapes[i]) {
      for (std::size_t p = 0; p + 1 < stroke.size(); ++p) {
        painter.line(place(stroke[p]), place(stroke[p + 1]), pen, {255, 255, 255});
      }
    }
  }
  return {.picture = painter.picture(renderer), .letters = letters};
}

const Text::Sheet& Text::sheet_for(int size) {
  const auto found = sheets_.find(size);
  if (found != sheets_.end()) return found->second;
  return sheets_.emplace(size, paint_sheet(renderer_, size)).first->second;
}

double Text::width(std::string_view words, int size) {
  const Sheet& sheet = sheet_for(size);
  double width = 0.0;
  for (const char character : words) width += sheet.letters[index_of(character)].advance;
  return width - (words.empty() ? 0.0 : kGap * size / kUnitsHigh * kNarrow);
}

void Text::draw(Spot at, std::string_view words, const TextStyle& style) {
  const Sheet& sheet = sheet_for(style.size);
  SDL_Texture* texture = sheet.picture.texture.get();
  SDL_SetTextureColorMod(texture, style.colour.red, style.colour.green, style.colour.blue);
  SDL_SetTextureAlphaMod(texture, style.colour.alpha);
  double x = at.x;
  if (style.align == Align::centre) x -= width(words, style.size) / 2.0;
  if (style.align == Align::right) x -= width(words, style.size);
  for (const char character : words) {
    const Letter& letter = sheet.letters[index_of(character)];
    const SDL_Rect from{letter.x, 0, letter.width, sheet.picture.height};
    const SDL_Rect to{static_cast<int>(std::lround(x)) - kMargin,
                      static_cast<int>(std::lround(at.y)) - kMargin, letter.width,
                      sheet.picture.height};
    SDL_RenderCopy(renderer_, texture, &from, &to);
    x += letter.advance;
  }
}

}  // namespace understudy::tram
