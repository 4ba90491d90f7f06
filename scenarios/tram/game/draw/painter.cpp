// Each shape is a distance: negative inside, positive outside, in pixels. A pixel is covered by as
// much as half a pixel less that distance says, which gives soft edges without a second pass.
#include "scenarios/tram/game/draw/painter.h"

#include <algorithm>
#include <cmath>

#include "scenarios/tram/game/rules/chance.h"

namespace understudy::tram {

namespace {

std::uint8_t channel(double value) {
  return static_cast<std::uint8_t>(std::clamp(std::lround(value), 0L, 255L));
}

double distance_to_segment(Spot p, Spot a, Spot b) {
  const double dx = b.x - a.x;
  const double dy = b.y - a.y;
  const double square = dx * dx + dy * dy;
  double along = square > 0.0 ? ((p.x - a.x) * dx + (p.y - a.y) * dy) / square : 0.0;
  along = std::clamp(along, 0.0, 1.0);
  return std::hypot(p.x - a.x - along * dx, p.y - a.y - along * dy);
}

bool edge_crosses(Spot p, Spot a, Spot b) {
  if ((a.y > p.y) == (b.y > p.y)) return false;
  return p.x < a.x + (b.x - a.x) * (p.y - a.y) / (b.y - a.y);
}

}  // namespace

Colour mix(Colour from, Colour to, double share) {
  const auto between = [share](int a, int b) { return channel(a + (b - a) * share); };
  return {between(from.red, to.red), between(from.green, to.green), between(from.blue, to.blue),
          between(from.alpha, to.alpha)};
}

Painter::Painter(int width, int height)
    : width_(width),
      height_(height),
      pixels_(static_cast<std::size_t>(width) * static_cast<std::size_t>(height),
              Colour{0, 0, 0, 0}) {}

void Painter::blend(int x, int y, Colour colour, double share) {
  if (x < 0 || y < 0 || x >= width_ || y >= height_) return;
  Colour& under = pixels_[static_cast<std::size_t>(y) * static_cast<std::size_t>(width_) +
                          static_cast<std::size_t>(x)];
  const double over = colour.alpha / 255.0 * share;
  const double kept = under.alpha / 255.0 * (1.0 - over);
  const double alpha = over + kept;
  if (alpha <= 0.0) return;
  const auto joined = [&](int top, int below) {
    return channel((top * over + below * kept) / alpha);
  };
  under = {joined(colour.red, under.red), joined(colour.green, under.green),
           joined(colour.blue, under.blue), channel(alpha * 255.0)};
}

template <typename Distance>
void Painter::shape(const Box& bounds, Colour colour, Distance distance) {
  const int left = std::max(0, static_cast<int>(std::floor(bounds.x)) - 1);
  const int top = std::max(0, static_cast<int>(std::floor(bounds.y)) - 1);
  const int right = std::min(width_, static_cast<int>(std::ceil(bounds.x + bounds.width)) + 1);
  const int bottom = std::min(height_, static_cast<int>(std::ceil(bounds.y + bounds.height)) + 1);
  for (int y = top; y < bottom; ++y) {
    for (int x = left; x < right; ++x) {
      const double covered = std::clamp(0.5 - distance(Spot{x + 0.5, y + 0.5}), 0.0, 1.0);
      if (covered > 0.0) blend(x, y, colour, covered);
    }
  }
}

void Painter::rounded(const Box& box, double radius, Colour colour) {
  const double half_width = box.width / 2.0 - radius;
  const double half_height = box.height / 2.0 - radius;
  shape(box, colour, [&](Spot p) {
    const double dx = std::abs(p.x - box.x - box.width / 2.0) - half_width;
    const double dy = std::abs(p.y - box.y - box.height / 2.0) - half_height;
    const double outside = std::hypot(std::max(dx, 0.0), std::max(dy, 0.0));
    return outside + std::min(std::max(dx, dy), 0.0) - radius;
  });
}

void Painter::gradient(const Box& box, Colour top, Colour bottom) {
  for (int row = 0; row < static_cast<int>(box.height); ++row) {
    const Colour colour = mix(top, bottom, row / std::max(1.0, box.height - 1.0));
    for (int column = 0; column < static_cast<int>(box.width); ++column) {
      blend(static_cast<int>(box.x) + column, static_cast<int>(box.y) + row, colour, 1.0);
    }
  }
}

void Painter::disc(Spot centre, double radius, Colour colour) {
  shape({centre.x - radius, centre.y - radius, 2.0 * radius, 2.0 * radius}, colour,
        [&](Spot p) { return std::hypot(p.x - centre.x, p.y - centre.y) - radius; });
}

void Painter::ring(Spot centre, double radius, double thickness, Colour colour) {
  const double outer = radius + thickness / 2.0;
  shape({centre.x - outer, centre.y - outer, 2.0 * outer, 2.0 * outer}, colour, [&](Spot p) {
    return std::abs(std::hypot(p.x - centre.x, p.y - centre.y) - radius) - thickness / 2.0;
  });
}

void Painter::line(Spot from, Spot to, double thickness, Colour colour) {
  const double half = thickness / 2.0;
  const Box bounds{std::min(from.x, to.x) - half, std::min(from.y, to.y) - half,
                   std::abs(to.x - from.x) + thickness, std::abs(to.y - from.y) + thickness};
  shape(bounds, colour, [&](Spot p) { return distance_to_segment(p, from, to) - half; });
}

void Painter::polygon(const std::vector<Spot>& corners, Colour colour) {
  Spot low = corners.front();
  Spot high = corners.front();
  for (const Spot& corner : corners) {
    low = {std::min(low.x, corner.x), std::min(low.y, corner.y)};
    high = {std::max(high.x, corner.x), std::max(high.y, corner.y)};
  }
  shape({low.x, low.y, high.x - low.x, high.y - low.y}, colour, [&](Spot p) {
    double nearest = 1e9;
    bool inside = false;
    for (std::size_t i = 0; i < corners.size(); ++i) {
      const Spot& a = corners[i];
      const Spot& b = corners[(i + 1) % corners.size()];
      nearest = std::min(nearest, distance_to_segment(p, a, b));
      if (edge_crosses(p, a, b)) inside = !inside;
    }
    return inside ? -nearest : nearest;
  });
}

void Painter::glow(Spot centre, double radius, Colour colour) {
  glow({centre.x - radius, centre.y - radius, 2.0 * radius, 2.0 * radius}, colour);
}

void Painter::glow(const Box& box, Colour colour) {
  const Spot half{box.width / 2.0, box.height / 2.0};
  for (int y = static_cast<int>(box.y); y < box.y + box.height; ++y) {
    for (int x = static_cast<int>(box.x); x < box.x + box.width; ++x) {
      const double part =
          std::hypot((x + 0.5 - box.x - half.x) / half.x, (y + 0.5 - box.y - half.y) / half.y);
      if (part < 1.0) blend(x, y, colour, (1.0 - part) * (1.0 - part));
    }
  }
}

void Painter::grain(int strength) {
  Chance chance(0);
  for (Colour& pixel : pixels_) {
    const double way = chance.between(-strength, strength);
    pixel = {channel(pixel.red + way), channel(pixel.green + way), channel(pixel.blue + way),
             pixel.alpha};
  }
}

Picture Painter::picture(SDL_Renderer* renderer, Blend blend) const {
  Picture made{.texture = nullptr, .width = width_, .height = height_};
  // The order of bytes that SDL's software renderer copies fastest.
  std::vector<std::uint32_t> packed;
  packed.reserve(pixels_.size());
  for (const Colour& pixel : pixels_) {
    packed.push_back(std::uint32_t{pixel.alpha} << 24 | std::uint32_t{pixel.red} << 16 |
                     std::uint32_t{pixel.green} << 8 | std::uint32_t{pixel.blue});
  }
  made.texture.reset(SDL_CreateTexture(renderer, SDL_PIXELFORMAT_ARGB8888, SDL_TEXTUREACCESS_STATIC,
                                       width_, height_));
  SDL_UpdateTexture(made.texture.get(), nullptr, packed.data(), width_ * 4);
  SDL_SetTextureBlendMode(made.texture.get(), blend == Blend::cover ? SDL_BLENDMODE_NONE
                                              : blend == Blend::add ? SDL_BLENDMODE_ADD
                                                                    : SDL_BLENDMODE_BLEND);
  return made;
}

void Picture::draw(SDL_Renderer* renderer, double x, double y) const {
  const SDL_Rect to{static_cast<int>(std::lround(x)), static_cast<int>(std::lround(y)), width,
                    height};
  SDL_RenderCopy(renderer, texture.get(), nullptr, &to);
}

void Picture::draw_covering(SDL_Renderer* renderer, double x, double y, double share) const {
  if (share <= 0.0) return;
  SDL_SetTextureBlendMode(texture.get(), share < 1.0 ? SDL_BLENDMODE_BLEND : SDL_BLENDMODE_NONE);
  SDL_SetTextureAlphaMod(texture.get(), channel(255.0 * share));
  draw(renderer, x, y);
}

void Picture::draw_over(SDL_Renderer* renderer, const Box& box, Colour colour) const {
  SDL_SetTextureColorMod(texture.get(), colour.red, colour.green, colour.blue);
  SDL_SetTextureAlphaMod(texture.get(), colour.alpha);
  const SDL_Rect to{static_cast<int>(std::lround(box.x)), static_cast<int>(std::lround(box.y)),
                    static_cast<int>(std::lround(box.width)),
                    static_cast<int>(std::lround(box.height))};
  SDL_RenderCopy(renderer, texture.get(), nullptr, &to);
}

}  // namespace understudy::tram
