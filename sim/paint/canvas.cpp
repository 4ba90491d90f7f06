// Every shape is painted over the pixels of its extent, and nowhere else.
#include "sim/paint/canvas.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace understudy {
namespace {

constexpr Light kShadow = {0.012F, 0.016F, 0.022F};  // daylight's shadows are a little blue
constexpr float kThrow = 0.55F;                      // a shadow's length for its height
constexpr float kBlur = 0.5F;
constexpr int kToneStep = 16;  // pixels from one tone of a cover to the next

// Encoded bytes by finely stepped light; the standard's curve is steep near black.
class Encoder {
 public:
  Encoder() {
    for (std::size_t i = 0; i < bytes_.size(); ++i) {
      const float root = static_cast<float>(i) / static_cast<float>(bytes_.size() - 1);
      bytes_[i] = static_cast<std::uint8_t>(std::lround(encoded_of(root * root) * 255));
    }
  }
  [[nodiscard]] std::uint8_t byte(float linear) const {
    const float root = std::sqrt(std::clamp(linear, 0.0F, 1.0F));
    return bytes_[static_cast<std::size_t>(root * static_cast<float>(bytes_.size() - 1) + 0.5F)];
  }

 private:
  std::array<std::uint8_t, 4096> bytes_;
};

// What shines beyond white goes there softly.
float rolled_off(float light) {
  constexpr float kKnee = 0.8F;
  if (light <= kKnee) return light;
  const float over = (light - kKnee) / (1 - kKnee);
  return kKnee + (1 - kKnee) * (1 - std::exp(-over));
}

}  // namespace

float shadow_at(float distance, float blur) {
  const float share = std::clamp((blur - distance) / (2 * blur), 0.0F, 1.0F);
  return share * share * (3 - 2 * share);
}

Canvas::Canvas(const Extent& extent, float pixels_per_mm)
    : extent_(extent),
      scale_(pixels_per_mm),
      width_(std::max(1, static_cast<int>(std::ceil(extent.width() * pixels_per_mm - 1e-3F)))),
      height_(std::max(1, static_cast<int>(std::ceil(extent.height() * pixels_per_mm - 1e-3F)))),
      pixels_(static_cast<std::size_t>(width_) * static_cast<std::size_t>(height_)) {}

Canvas::Window Canvas::window_of(const Extent& extent) const {
  const auto first = [this](float mm, float origin, int most) {
    return std::clamp(static_cast<int>(std::floor((mm - origin) * scale_ - 1)), 0, most);
  };
  const auto last = [this](float mm, float origin, int most) {
    return std::clamp(static_cast<int>(std::ceil((mm - origin) * scale_ + 1)), 0, most);
  };
  return {first(extent.left, extent_.left, width_), first(extent.top, extent_.top, height_),
          last(extent.right, extent_.left, width_), last(extent.bottom, extent_.top, height_)};
}

Point Canvas::middle_of(int column, int row) const {
  return {extent_.left + (static_cast<float>(column) + 0.5F) / scale_,
          extent_.top + (static_cast<float>(row) + 0.5F) / scale_};
}

void Canvas::lay(Pixel& pixel, const Light& light, float alpha) {
  const float under = 1 - alpha;
  pixel.red = light.red * alpha + pixel.red * under;
  pixel.green = light.green * alpha + pixel.green * under;
  pixel.blue = light.blue * alpha + pixel.blue * under;
  pixel.alpha = alpha + pixel.alpha * under;
}

// Columns that can be passed over because an edge is at least `distance` mm away. Distances of some
// shapes are right near the edge only, so not all of it is believed.
int Canvas::columns_within(float distance) const {
  return std::max(0, static_cast<int>(distance * scale_ * 0.6F) - 1);
}

template <class Each>
void Canvas::over(const Shape& shape, Each each) {
  const Window window = window_of(shape.extent());
  for (int row = window.top; row < window.bottom; ++row) {
    for (int column = window.left; column < window.right; ++column) {
      const Point point = middle_of(column, row);
      const float distance = shape.distance(point);
      const float covered = coverage(distance, scale_);
      if (covered > 0)
        each(pixel_at(column, row), point, covered);
      else
        column += columns_within(distance);
    }
  }
}

void Canvas::fill(const Shape& shape, const Light& colour, float opacity) {
  over(shape,
       [&](Pixel& pixel, const Point&, float covered) { lay(pixel, colour, covered * opacity); });
}

void Canvas::fill(const Shape& shape, const Material& material) {
  if (material.height) {
    fill_formed(shape, material);
    return;
  }
  over(shape, [&](Pixel& pixel, const Point& point, float covered) {
    const float tone = material.tone ? material.tone(point) : 1.0F;
    const float alpha = material.alpha ? material.alpha(point) : 1.0F;
    lay(pixel, lit(material.colour * tone, material, {}), covered * material.opacity * alpha);
  });
}

// Slopes are taken between the neighbours of a pixel, from heights worked out once for each.
void Canvas::fill_formed(const Shape& shape, const Material& material) {
  const Window window = window_of(shape.extent());
  const int stride = window.width() + 2;
  const int rows = window.bottom - window.top + 2;
  if (stride <= 2 || rows <= 2) return;
  std::vector<float> distances(static_cast<std::size_t>(stride) * static_cast<std::size_t>(rows));
  std::vector<float> heights(distances.size());
  for (int row = 0; row < rows; ++row) {
    for (int column = 0; column < stride; ++column) {
      const Point point = middle_of(window.left + column - 1, window.top + row - 1);
      const auto i = static_cast<std::size_t>(row * stride + column);
      distances[i] = shape.distance(point);
      if (distances[i] * scale_ < 3) {
        heights[i] = material.height(point, std::max(0.0F, -distances[i]));
        continue;
      }
      const int last = std::min(stride - 1, column + columns_within(distances[i] - 3 / scale_));
      for (; column < last; ++column)
        distances[static_cast<std::size_t>(row * stride + column + 1)] = distances[i];
    }
  }
  for (int row = 1; row < rows - 1; ++row) {
    for (int column = 1; column < stride - 1; ++column) {
      const auto i = static_cast<std::size_t>(row * stride + column);
      const float covered = coverage(distances[i], scale_);
      if (covered <= 0) continue;
      const auto up = i - static_cast<std::size_t>(stride);
      const auto down = i + static_cast<std::size_t>(stride);
      const Slope slope = {(heights[i + 1] - heights[i - 1]) * scale_ / 2,
                           (heights[down] - heights[up]) * scale_ / 2};
      const int x = window.left + column - 1;
      const int y = window.top + row - 1;
      const Point point = middle_of(x, y);
      const float tone = material.tone ? material.tone(point) : 1.0F;
      const float alpha = material.alpha ? material.alpha(point) : 1.0F;
      lay(pixel_at(x, y), lit(material.colour * tone, material, slope),
          covered * material.opacity * alpha);
    }
  }
}

void Canvas::shadow(const Shape& shape, const Shade& shade) {
  const float blur = std::max(shade.height * kBlur, 0.75F / scale_);
  const Point away = kSunward * (-kThrow * shade.height);
  const float near = std::max(shade.height * 0.16F, 0.6F / scale_);
  const Point small = away * 0.2F;
  const Extent reach = both(moved(grown(shape.extent(), blur), away), grown(shape.extent(), near));
  const Window window = window_of(reach);
  for (int row = window.top; row < window.bottom; ++row) {
    for (int column = window.left; column < window.right; ++column) {
      const Point point = middle_of(column, row);
      const float to_wide = shape.distance(point - away);
      const float to_close = shape.distance(point - small);
      const float wide = shadow_at(to_wide, blur) * shade.strength;
      const float close = shadow_at(to_close, near) * shade.contact;
      const float alpha = 1 - (1 - wide) * (1 - close);
      // The same all over the middle, and nothing outside.
      const float even = std::min(std::abs(to_wide) - blur, std::abs(to_close) - near);
      const int last = std::min(window.right - 1, column + columns_within(even));
      for (;; ++column) {
        if (alpha > 0.002F) lay(pixel_at(column, row), kShadow, alpha);
        if (column >= last) break;
      }
    }
  }
}

void Canvas::recess(const Shape& shape, const Shade& shade) {
  const float blur = std::max(shade.height * kBlur, 0.75F / scale_);
  const Point away = kSunward * (-kThrow * shade.height);
  const float near = std::max(shade.height * 0.3F, 0.6F / scale_);
  over(shape, [&](Pixel& pixel, const Point& point, float covered) {
    const float wide = (1 - shadow_at(shape.distance(point - away), blur)) * shade.strength;
    const float close = (1 - shadow_at(shape.distance(point), near)) * 2 * shade.contact;
    const float alpha = 1 - (1 - wide) * (1 - std::min(close, 1.0F));
    lay(pixel, kShadow, alpha * covered);
  });
}

void Canvas::hole(const Shape& shape, const Light& floor, float depth) {
  const float lip = std::max(0.3F, 1.2F / scale_);
  const float step = 0.5F / scale_;
  over(outline(grown(shape, lip / 2), lip), [&](Pixel& pixel, const Point& point, float covered) {
    const float right = shape.distance({point.x + step, point.y});
    const float left = shape.distance({point.x - step, point.y});
    const float below = shape.distance({point.x, point.y + step});
    const float above = shape.distance({point.x, point.y - step});
    // 1 where the edge faces the light: there the sheet bends away from it.
    const float facing = ((right - left) * kSunward.x + (below - above) * kSunward.y) * scale_;
    const float fading = 1 - std::clamp(shape.distance(point) / lip, 0.0F, 1.0F);
    lay(pixel, kShadow, std::max(0.0F, facing) * 0.5F * covered * fading);
    lay(pixel, {0.9F, 0.88F, 0.8F}, std::max(0.0F, -facing) * 0.45F * covered * fading);
  });
  fill(shape, floor);
  recess(shape, {.height = depth, .strength = 0.75F, .contact = 0.4F});
}

void Canvas::engrave(const Shape& shape, const Light& paint) {
  const float step = std::clamp(0.09F, 0.55F / scale_, 1.1F / scale_);
  fill(moved(shape, kSunward * step), kShadow, 0.5F);
  fill(moved(shape, kSunward * -step), {0.85F, 0.9F, 0.8F}, 0.22F);
  fill(shape, paint);
}

void Canvas::glow(const Point& middle, float radius, const Light& light) {
  over(circle(middle, radius), [&](Pixel& pixel, const Point& point, float covered) {
    const Point q = point - middle;
    const float share = 1 - std::min(1.0F, std::sqrt(q.x * q.x + q.y * q.y) / radius);
    const float bright = share * share * covered;
    pixel.red += light.red * bright;
    pixel.green += light.green * bright;
    pixel.blue += light.blue * bright;
    pixel.alpha = std::min(1.0F, pixel.alpha + bright * (1 - pixel.alpha));
  });
}

void Canvas::cover(const Shape& shape, const Tile& tile, const Tone& tone) {
  const Window window = window_of(shape.extent());
  for (int row = window.top; row < window.bottom; ++row) {
    const Light* line = &tile.pixels[static_cast<std::size_t>(row % tile.height) *
                                     static_cast<std::size_t>(tile.width)];
    int covered_until = window.left;  // in the middle no edge is near
    float factor = 1;
    float slope = 0;
    for (int column = window.left; column < window.right; ++column) {
      if (tone && (column - window.left) % kToneStep == 0) {
        factor = tone(middle_of(column, row));
        slope = (tone(middle_of(column + kToneStep, row)) - factor) / kToneStep;
      }
      float covered = 1;
      if (column >= covered_until) {
        const float distance = shape.distance(middle_of(column, row));
        covered = coverage(distance, scale_);
        covered_until = column + 1 + columns_within(-distance);
      }
      if (covered > 0) lay(pixel_at(column, row), line[column % tile.width] * factor, covered);
      factor += slope;
    }
  }
}

Canvas::Seen Canvas::at(int column, int row) const {
  const Pixel& pixel = pixels_[static_cast<std::size_t>(row) * static_cast<std::size_t>(width_) +
                               static_cast<std::size_t>(column)];
  if (pixel.alpha <= 0) return {};
  const float by = 1 / pixel.alpha;
  return {{pixel.red * by, pixel.green * by, pixel.blue * by}, pixel.alpha};
}

Bitmap Canvas::bitmap() const {
  const Encoder encoder;
  Bitmap bitmap(width_, height_);
  std::uint8_t* out = bitmap.rgba.data();
  for (const Pixel& pixel : pixels_) {
    const float by = pixel.alpha > 0 ? 1 / pixel.alpha : 0;
    *out++ = encoder.byte(rolled_off(pixel.red * by));
    *out++ = encoder.byte(rolled_off(pixel.green * by));
    *out++ = encoder.byte(rolled_off(pixel.blue * by));
    *out++ = static_cast<std::uint8_t>(std::lround(std::clamp(pixel.alpha, 0.0F, 1.0F) * 255));
  }
  return bitmap;
}

}  // namespace understudy
