// Paints soft-edged shapes into pixels in memory, then hands them to the renderer as one texture.
// Meant for the start of the program and for small dials; the frame itself only copies textures.
#pragma once

#include <SDL.h>

#include <cstdint>
#include <memory>
#include <vector>

namespace understudy::tram {

struct Colour {
  std::uint8_t red = 0;
  std::uint8_t green = 0;
  std::uint8_t blue = 0;
  std::uint8_t alpha = 255;

  Colour with_alpha(int value) const {
    return {red, green, blue, static_cast<std::uint8_t>(value)};
  }
};

// From one colour to another; share 0 to 1.
Colour mix(Colour from, Colour to, double share);

struct Spot {
  double x = 0.0;
  double y = 0.0;
};

struct Box {
  double x = 0.0;
  double y = 0.0;
  double width = 0.0;
  double height = 0.0;
};

// A texture and its size. Owns the texture; must go before its renderer.
struct Picture {
  struct Free {
    void operator()(SDL_Texture* texture) const { SDL_DestroyTexture(texture); }
  };
  std::unique_ptr<SDL_Texture, Free> texture;
  int width = 0;
  int height = 0;

  // Top left corner at x, y.
  void draw(SDL_Renderer* renderer, double x, double y) const;
  // Stretched over a box, tinted and lit: `colour` multiplies, its alpha fades.
  void draw_over(SDL_Renderer* renderer, const Box& box, Colour colour) const;
  // A picture without holes, laid over what is there by a share from 0 to 1. Whole, it is only
  // copied, which is several times quicker than blending.
  void draw_covering(SDL_Renderer* renderer, double x, double y, double share) const;
};

class Painter {
 public:
  // All transparent at first. REQUIRES: width > 0, height > 0
  Painter(int width, int height);

  void rect(const Box& box, Colour colour) { rounded(box, 0.0, colour); }
  void rounded(const Box& box, double radius, Colour colour);
  // From `top` to `bottom`, edges not softened.
  void gradient(const Box& box, Colour top, Colour bottom);
  void disc(Spot centre, double radius, Colour colour);
  void ring(Spot centre, double radius, double thickness, Colour colour);
  // With round ends.
  void line(Spot from, Spot to, double thickness, Colour colour);
  // Convex or not, not crossing itself.
  void polygon(const std::vector<Spot>& corners, Colour colour);
  // Light that fades to nothing at the radius, or at the sides of a box (as an oval).
  void glow(Spot centre, double radius, Colour colour);
  void glow(const Box& box, Colour colour);
  // Grain like hammered paint: each pixel a little lighter or darker, the same at every start.
  void grain(int strength);

  // A picture that covers what is below it needs no blending, which is quicker to copy.
  enum class Blend { cover, over, add };
  Picture picture(SDL_Renderer* renderer, Blend blend = Blend::over) const;

 private:
  template <typename Distance>
  void shape(const Box& bounds, Colour colour, Distance distance);
  void blend(int x, int y, Colour colour, double share);

  int width_;
  int height_;
  std::vector<Colour> pixels_;
};

}  // namespace understudy::tram
