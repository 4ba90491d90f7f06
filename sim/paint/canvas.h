// Paints into a picture by millimetres: shapes filled with materials under daylight, the shadows
// that they throw and the recesses that they lie in. All mixing is of light; the bytes of sRGB come
// last. The same calls give the same picture.
//
//   Canvas canvas({.left = -10, .top = -10, .right = 10, .bottom = 10}, 5.0F);
//   const Shape knob = circle({0, 0}, 7);
//   canvas.shadow(knob, {.height = 6});
//   canvas.fill(knob, {.colour = light_of(0x302018), .shine = 0.5F, .height =
//   rounded_edge(2, 1.5F)}); const Bitmap bitmap = canvas.bitmap();
#pragma once

#include <vector>

#include "sim/paint/bitmap.h"
#include "sim/paint/surfaces.h"

namespace understudy {

struct Shade {
  float height = 1;       // of what throws it, mm above what it falls on
  float strength = 0.5F;  // 0 to 1, where it is deepest
  float contact = 0.35F;  // a narrower, darker line right at the edge
};

class Canvas {
 public:
  // Shows `extent`, rounded up to whole pixels. Empty at first: all transparent.
  Canvas(const Extent& extent, float pixels_per_mm);

  [[nodiscard]] float pixels_per_mm() const { return scale_; }
  [[nodiscard]] float pixel() const { return 1 / scale_; }  // in mm
  [[nodiscard]] const Extent& extent() const { return extent_; }
  [[nodiscard]] int width() const { return width_; }
  [[nodiscard]] int height() const { return height_; }

  void fill(const Shape& shape, const Material& material);
  void fill(const Shape& shape, const Light& colour, float opacity = 1);
  // What the shape throws on what is painted already, away from the light. Paint it before the
  // shape. `within`: only there.
  void shadow(const Shape& shape, const Shade& shade);
  // The shadow of the shape's own edge into it: it is a hole, `height` deep.
  void recess(const Shape& shape, const Shade& shade);
  // A hole with a rounded lip in sheet: floor of a colour, its shadow, light on the lower lip.
  void hole(const Shape& shape, const Light& floor, float depth);
  // A line cut into the surface and filled with paint: dark at its upper edge, light at its lower.
  void engrave(const Shape& shape, const Light& paint);
  // A soft light around a point, added to what is there.
  void glow(const Point& middle, float radius, const Light& light);

  // Another picture of the same scale repeated over the shape, its first pixel at the canvas's
  // first. `tile` holds light, without alpha, tile_width wide.
  struct Tile {
    int width = 0;
    int height = 0;
    std::vector<Light> pixels;
  };
  // Tones change slowly: they are taken at some pixels, and evenly between those.
  void cover(const Shape& shape, const Tile& tile, const Tone& tone);

  // Light and alpha at a pixel, straight. For tests.
  struct Seen {
    Light light;
    float alpha = 0;
  };
  [[nodiscard]] Seen at(int column, int row) const;
  [[nodiscard]] Bitmap bitmap() const;

 private:
  struct Pixel {
    float red = 0;
    float green = 0;
    float blue = 0;
    float alpha = 0;  // the others are multiplied by it
  };
  struct Window {  // of pixels, the last ones not in it
    int left = 0;
    int top = 0;
    int right = 0;
    int bottom = 0;
    [[nodiscard]] int width() const { return right - left; }
  };
  [[nodiscard]] Window window_of(const Extent& extent) const;
  [[nodiscard]] Point middle_of(int column, int row) const;
  [[nodiscard]] Pixel& pixel_at(int column, int row) {
    return pixels_[static_cast<std::size_t>(row) * static_cast<std::size_t>(width_) +
                   static_cast<std::size_t>(column)];
  }
  void lay(Pixel& pixel, const Light& light, float alpha);
  [[nodiscard]] int columns_within(float distance) const;
  // Calls each(pixel, point, coverage) wherever the shape covers something.
  template <class Each>
  void over(const Shape& shape, Each each);
  void fill_formed(const Shape& shape, const Material& material);

  Extent extent_;
  float scale_;
  int width_;
  int height_;
  std::vector<Pixel> pixels_;
};

// Share of a pixel that a shape covers whose edge is `distance` mm from its middle.
inline float coverage(float distance, float pixels_per_mm) {
  const float share = 0.5F - distance * pixels_per_mm;
  return share < 0 ? 0 : share > 1 ? 1 : share;
}

// How deep a shadow is at a distance from the edge of what throws it, `blur` mm either side.
float shadow_at(float distance, float blur);

}  // namespace understudy
