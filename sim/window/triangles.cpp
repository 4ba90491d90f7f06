// How a pixel comes about: upright rectangles of one colour by rows, all else by spans between two
// edges, with colour and place in the texture running along.
#include "sim/window/triangles.h"

#include <algorithm>
#include <cmath>

namespace understudy {
namespace {

constexpr std::uint32_t kPair = 0x00FF00FFU;

// Each of two bytes in `pair` times `share`/255, rounded.
std::uint32_t scaled_pair(std::uint32_t pair, std::uint32_t share) {
  const std::uint32_t product = (pair & kPair) * share + 0x00800080U;
  return (product + (product >> 8 & kPair)) >> 8 & kPair;
}

std::uint32_t scaled(std::uint32_t colour, std::uint32_t share) {
  return scaled_pair(colour, share) | scaled_pair(colour >> 8, share) << 8;
}

void blend(std::uint32_t& pixel, std::uint32_t colour) {
  const std::uint32_t alpha = colour >> 24;
  if (alpha == 0) return;
  if (alpha == 255) {
    pixel = colour;
  } else {
    pixel = (colour + scaled(pixel, 255 - alpha)) | 0xFF000000U;
  }
}

// Straight colour of a vertex.
struct Tint {
  float red;
  float green;
  float blue;
  float alpha;
};

Tint tint_of(ImU32 colour) {
  const auto part = [colour](int shift) { return static_cast<float>(colour >> shift & 0xFFU); };
  return {part(IM_COL32_R_SHIFT), part(IM_COL32_G_SHIFT), part(IM_COL32_B_SHIFT),
          part(IM_COL32_A_SHIFT)};
}

// Multiplied by its alpha.
std::uint32_t packed(const Tint& tint) {
  const float share = tint.alpha * (1.0F / 255.0F);
  const auto byte = [](float value) {
    return static_cast<std::uint32_t>(static_cast<int>(std::clamp(value, 0.0F, 255.0F) + 0.5F));
  };
  return byte(tint.alpha) << 24 | byte(tint.red * share) << 16 | byte(tint.green * share) << 8 |
         byte(tint.blue * share);
}

// A sample times a packed tint, byte by byte.
std::uint32_t tinted(std::uint32_t sample, std::uint32_t tint) {
  if (tint == 0xFFFFFFFFU) return sample;
  const auto part = [sample, tint](int shift) {
    const std::uint32_t product = (sample >> shift & 0xFFU) * (tint >> shift & 0xFFU) + 128;
    return (product + (product >> 8)) >> 8 << shift;
  };
  const std::uint32_t alpha = tint >> 24;
  const bool grey =
      (tint & 0xFFU) == alpha && (tint >> 8 & 0xFFU) == alpha && (tint >> 16 & 0xFFU) == alpha;
  if (grey) return scaled(sample, alpha);
  return part(24) | part(16) | part(8) | part(0);
}

// The four bytes of a pixel, sixteen bits apart, so that all are reckoned with at once.
constexpr std::uint64_t kLanes = 0x00FF00FF00FF00FFULL;

std::uint64_t spread(std::uint32_t pixel) {
  return (pixel & kPair) | static_cast<std::uint64_t>(pixel & ~kPair) << 24;
}

std::uint32_t joined(std::uint64_t lanes) {
  return static_cast<std::uint32_t>((lanes & kPair) | (lanes >> 24 & ~kPair));
}

std::uint64_t mixed(std::uint64_t from, std::uint64_t to, std::uint64_t share256) {
  return (from * (256 - share256) + to * share256) >> 8 & kLanes;
}

// Where in a texture, in pixels times 65536, counted from the middle of its first pixel.
struct Place {
  std::int64_t u = 0;
  std::int64_t v = 0;
};

// Between the middles of four pixels, all of which the texture has.
std::uint32_t sampled_inside(const Sampled& texture, Place place) {
  const std::uint32_t* upper = texture.pixels.data() +
                               static_cast<std::ptrdiff_t>(place.v >> 16) * texture.width +
                               (place.u >> 16);
  const std::uint32_t* lower = upper + texture.width;
  const auto across = static_cast<std::uint64_t>(place.u >> 8 & 0xFF);
  const auto down = static_cast<std::uint64_t>(place.v >> 8 & 0xFF);
  if ((upper[0] | upper[1] | lower[0] | lower[1]) == 0) return 0;
  return joined(mixed(mixed(spread(upper[0]), spread(upper[1]), across),
                      mixed(spread(lower[0]), spread(lower[1]), across), down));
}

bool is_inside(const Sampled& texture, Place place) {
  return place.u >= 0 && place.v >= 0 && (place.u >> 16) < texture.width - 1 &&
         (place.v >> 16) < texture.height - 1;
}

// The same where the texture may end: its last pixels go on beyond its edge.
std::uint32_t sampled(const Sampled& texture, Place place) {
  if (is_inside(texture, place)) return sampled_inside(texture, place);
  const auto pixel = [&](int column, int row) {
    const int x = std::clamp(column, 0, texture.width - 1);
    const int y = std::clamp(row, 0, texture.height - 1);
    return spread(texture.pixels[static_cast<std::size_t>(y * texture.width + x)]);
  };
  const auto bounded = [](std::int64_t at) {
    return static_cast<int>(std::clamp<std::int64_t>(at >> 16, -1, 1'000'000));
  };
  const int column = bounded(place.u);
  const int row = bounded(place.v);
  const auto across = static_cast<std::uint64_t>(place.u >> 8 & 0xFF);
  const auto down = static_cast<std::uint64_t>(place.v >> 8 & 0xFF);
  return joined(mixed(mixed(pixel(column, row), pixel(column + 1, row), across),
                      mixed(pixel(column, row + 1), pixel(column + 1, row + 1), across), down));
}

// The first pixel whose middle is not before `edge`.
int first_middle(float edge) {
  return static_cast<int>(std::ceil(edge - 0.5F));
}

std::int64_t fixed(float value) {
  return static_cast<std::int64_t>(value * 65'536.0F);
}

Place place_of(float u, float v) {
  return {fixed(u - 0.5F), fixed(v - 0.5F)};
}

// Pixels of a row, with their places in the texture running along.
struct Run {
  std::uint32_t* pixels;
  int count;
  Place first;
  Place step;
};

// All in one tint.
void sample_run(const Sampled& texture, const Run& run, std::uint32_t tint) {
  const Place last = {run.first.u + run.step.u * (run.count - 1),
                      run.first.v + run.step.v * (run.count - 1)};
  const bool inside = is_inside(texture, run.first) && is_inside(texture, last);
  const bool plain = tint == 0xFFFFFFFFU;
  Place place = run.first;
  for (int i = 0; i < run.count; ++i) {
    const std::uint32_t sample = inside ? sampled_inside(texture, place) : sampled(texture, place);
    if (sample != 0) blend(run.pixels[i], plain ? sample : tinted(sample, tint));
    place.u += run.step.u;
    place.v += run.step.v;
  }
}

class Drawing {
 public:
  Drawing(const DrawTarget& target, const ClipBox& clip, const Sampled& texture)
      : target_(target),
        clip_(clip),
        texture_(texture),
        wide_(static_cast<float>(texture.width)),
        high_(static_cast<float>(texture.height)) {}

  bool upright(const ImDrawVert& a, const ImDrawVert& b, const ImDrawVert& c, const ImDrawVert& d);
  void triangle(const ImDrawVert& a, const ImDrawVert& b, const ImDrawVert& c);

 private:
  // How a quantity runs over the plane of a triangle.
  struct Slope {
    float at_first;
    float by_x;
    float by_y;
  };
  struct Plane {
    ImVec2 first;
    ImVec2 to_second;
    ImVec2 to_third;
    float inverse;
    [[nodiscard]] Slope slope(float a, float b, float c) const {
      const float second = b - a;
      const float third = c - a;
      return {a, (second * to_third.y - third * to_second.y) * inverse,
              (third * to_second.x - second * to_third.x) * inverse};
    }
  };

  std::uint32_t* row(int y) const { return target_.pixels + y * target_.stride; }
  std::uint32_t flat_colour(const ImDrawVert& vertex, bool& white) const;
  void fill(std::uint32_t* pixel, int count, std::uint32_t colour) const;
  void copy_rows(const ImDrawVert& a, const ImDrawVert& c, const ClipBox& box,
                 std::uint32_t tint) const;
  void sample_rows(const ImDrawVert& a, const ImDrawVert& c, const ClipBox& box,
                   std::uint32_t tint) const;
  template <class Span>
  void spans(const ImDrawVert& a, const ImDrawVert& b, const ImDrawVert& c, Span span) const;
  void shaded(const Plane& plane, const ImDrawVert& a, const ImDrawVert& b, const ImDrawVert& c,
              bool one_place, bool one_colour) const;

  const DrawTarget& target_;
  const ClipBox& clip_;
  const Sampled& texture_;
  float wide_;
  float high_;
};

bool same(const ImVec2& a, const ImVec2& b) {
  return a.x == b.x && a.y == b.y;
}

std::uint32_t Drawing::flat_colour(const ImDrawVert& vertex, bool& white) const {
  const std::uint32_t sample =
      sampled(texture_, place_of(vertex.uv.x * wide_, vertex.uv.y * high_));
  white = sample == 0xFFFFFFFFU;
  return tinted(sample, packed(tint_of(vertex.col)));
}

void Drawing::fill(std::uint32_t* pixel, int count, std::uint32_t colour) const {
  const std::uint32_t alpha = colour >> 24;
  if (alpha == 0) return;
  if (alpha == 255) {
    std::fill_n(pixel, count, colour);
    return;
  }
  for (int i = 0; i < count; ++i) {
    pixel[i] = (colour + scaled(pixel[i], 255 - alpha)) | 0xFF000000U;
  }
}

// One colour over an upright rectangle, corners in the order in which ImGui lays them.
bool Drawing::upright(const ImDrawVert& a, const ImDrawVert& b, const ImDrawVert& c,
                      const ImDrawVert& d) {
  if (a.pos.y != b.pos.y || b.pos.x != c.pos.x || c.pos.y != d.pos.y || d.pos.x != a.pos.x ||
      a.pos.x > c.pos.x || a.pos.y > c.pos.y || a.col != b.col || a.col != c.col ||
      a.col != d.col) {
    return false;
  }
  const ClipBox box = {
      std::max(first_middle(a.pos.x), clip_.left), std::max(first_middle(a.pos.y), clip_.top),
      std::min(first_middle(c.pos.x), clip_.right), std::min(first_middle(c.pos.y), clip_.bottom)};
  const bool flat = same(a.uv, b.uv) && same(b.uv, c.uv) && same(c.uv, d.uv);
  const bool aligned = a.uv.y == b.uv.y && b.uv.x == c.uv.x && c.uv.y == d.uv.y && d.uv.x == a.uv.x;
  if (!flat && !aligned) return false;
  if (box.left >= box.right || box.top >= box.bottom) return true;
  if (flat) {
    bool white = false;
    const std::uint32_t colour = flat_colour(a, white);
    for (int y = box.top; y < box.bottom; ++y) {
      fill(row(y) + box.left, box.right - box.left, colour);
    }
    return true;
  }
  const std::uint32_t tint = packed(tint_of(a.col));
  const auto whole = [](float value) { return std::abs(value - std::round(value)) < 0.01F; };
  const bool one_to_one = std::abs((c.uv.x - a.uv.x) * wide_ - (c.pos.x - a.pos.x)) < 0.01F &&
                          std::abs((c.uv.y - a.uv.y) * high_ - (c.pos.y - a.pos.y)) < 0.01F &&
                          whole(a.uv.x * wide_ - a.pos.x) && whole(a.uv.y * high_ - a.pos.y);
  one_to_one ? copy_rows(a, c, box, tint) : sample_rows(a, c, box, tint);
  return true;
}

// The texture's pixels lie exactly on the target's.
void Drawing::copy_rows(const ImDrawVert& a, const ImDrawVert& /*c*/, const ClipBox& box,
                        std::uint32_t tint) const {
  const int shift_x = static_cast<int>(std::lround(a.uv.x * wide_ - a.pos.x));
  const int shift_y = static_cast<int>(std::lround(a.uv.y * high_ - a.pos.y));
  const int left = std::max(box.left, -shift_x);
  const int right = std::min(box.right, texture_.width - shift_x);
  const int top = std::max(box.top, -shift_y);
  const int bottom = std::min(box.bottom, texture_.height - shift_y);
  for (int y = top; y < bottom; ++y) {
    const std::uint32_t* from = texture_.pixels.data() +
                                static_cast<std::ptrdiff_t>(y + shift_y) * texture_.width + shift_x;
    std::uint32_t* to = row(y);
    if (texture_.opaque && tint == 0xFFFFFFFFU) {
      std::copy(from + left, from + std::max(left, right), to + left);
      continue;
    }
    for (int x = left; x < right; ++x) {
      if (from[x] != 0) blend(to[x], tinted(from[x], tint));
    }
  }
}

void Drawing::sample_rows(const ImDrawVert& a, const ImDrawVert& c, const ClipBox& box,
                          std::uint32_t tint) const {
  const float step_x = (c.uv.x - a.uv.x) * wide_ / (c.pos.x - a.pos.x);
  const float step_y = (c.uv.y - a.uv.y) * high_ / (c.pos.y - a.pos.y);
  for (int y = box.top; y < box.bottom; ++y) {
    const float down = static_cast<float>(y) + 0.5F - a.pos.y;
    const float across = static_cast<float>(box.left) + 0.5F - a.pos.x;
    const Place first = place_of(a.uv.x * wide_ + across * step_x, a.uv.y * high_ + down * step_y);
    sample_run(texture_, {row(y) + box.left, box.right - box.left, first, {fixed(step_x), 0}},
               tint);
  }
}

// Calls span(y, first, end) for each row of the triangle, clipped.
template <class Span>
void Drawing::spans(const ImDrawVert& a, const ImDrawVert& b, const ImDrawVert& c,
                    Span span) const {
  const ImVec2* top = &a.pos;
  const ImVec2* middle = &b.pos;
  const ImVec2* low = &c.pos;
  const auto above = [](const ImVec2* one, const ImVec2* other) {
    return one->y < other->y || (one->y == other->y && one->x < other->x);
  };
  if (above(middle, top)) std::swap(middle, top);
  if (above(low, middle)) std::swap(low, middle);
  if (above(middle, top)) std::swap(middle, top);
  const auto on_edge = [](const ImVec2& from, const ImVec2& to, float y) {
    return from.x + (y - from.y) * ((to.x - from.x) / (to.y - from.y));
  };
  const int first = std::max(first_middle(top->y), clip_.top);
  const int end = std::min(first_middle(low->y), clip_.bottom);
  for (int y = first; y < end; ++y) {
    const float at = static_cast<float>(y) + 0.5F;
    float left = on_edge(*top, *low, at);
    float right = at < middle->y ? on_edge(*top, *middle, at) : on_edge(*middle, *low, at);
    if (left > right) std::swap(left, right);
    const int from = std::max(first_middle(left), clip_.left);
    const int to = std::min(first_middle(right), clip_.right);
    if (from < to) span(y, from, to);
  }
}

void Drawing::triangle(const ImDrawVert& a, const ImDrawVert& b, const ImDrawVert& c) {
  const float least_x = std::min({a.pos.x, b.pos.x, c.pos.x});
  const float most_x = std::max({a.pos.x, b.pos.x, c.pos.x});
  const float least_y = std::min({a.pos.y, b.pos.y, c.pos.y});
  const float most_y = std::max({a.pos.y, b.pos.y, c.pos.y});
  if (!(most_x > static_cast<float>(clip_.left) && least_x < static_cast<float>(clip_.right) &&
        most_y > static_cast<float>(clip_.top) && least_y < static_cast<float>(clip_.bottom))) {
    return;
  }
  const bool one_place = same(a.uv, b.uv) && same(b.uv, c.uv);
  const bool one_colour = a.col == b.col && b.col == c.col;
  if (one_place && one_colour) {
    bool white = false;
    const std::uint32_t colour = flat_colour(a, white);
    if (colour >> 24 == 0) return;
    spans(a, b, c, [&](int y, int from, int to) { fill(row(y) + from, to - from, colour); });
    return;
  }
  Plane plane;
  plane.first = a.pos;
  plane.to_second = ImVec2(b.pos.x - a.pos.x, b.pos.y - a.pos.y);
  plane.to_third = ImVec2(c.pos.x - a.pos.x, c.pos.y - a.pos.y);
  const float area = plane.to_second.x * plane.to_third.y - plane.to_third.x * plane.to_second.y;
  if (area == 0.0F) return;
  plane.inverse = 1.0F / area;
  shaded(plane, a, b, c, one_place, one_colour);
}

void Drawing::shaded(const Plane& plane, const ImDrawVert& a, const ImDrawVert& b,
                     const ImDrawVert& c, bool one_place, bool one_colour) const {
  const Tint tints[3] = {tint_of(a.col), tint_of(b.col), tint_of(c.col)};
  const Slope red = plane.slope(tints[0].red, tints[1].red, tints[2].red);
  const Slope green = plane.slope(tints[0].green, tints[1].green, tints[2].green);
  const Slope blue = plane.slope(tints[0].blue, tints[1].blue, tints[2].blue);
  const Slope alpha = plane.slope(tints[0].alpha, tints[1].alpha, tints[2].alpha);
  const Slope u = plane.slope(a.uv.x * wide_, b.uv.x * wide_, c.uv.x * wide_);
  const Slope v = plane.slope(a.uv.y * high_, b.uv.y * high_, c.uv.y * high_);
  const std::uint32_t one_tint = packed(tints[0]);
  const std::uint32_t one_sample = sampled(texture_, place_of(a.uv.x * wide_, a.uv.y * high_));
  const Place step = {fixed(u.by_x), fixed(v.by_x)};
  spans(a, b, c, [&](int y, int from, int to) {
    const float across = static_cast<float>(from) + 0.5F - plane.first.x;
    const float down = static_cast<float>(y) + 0.5F - plane.first.y;
    const auto start = [across, down](const Slope& slope) {
      return slope.at_first + across * slope.by_x + down * slope.by_y;
    };
    Place place = place_of(start(u), start(v));
    std::uint32_t* pixel = row(y);
    if (one_colour) {
      sample_run(texture_, {pixel + from, to - from, place, step}, one_tint);
      return;
    }
    Tint tint = {start(red), start(green), start(blue), start(alpha)};
    for (int x = from; x < to; ++x) {
      const std::uint32_t sample = one_place ? one_sample : sampled(texture_, place);
      blend(pixel[x], tinted(sample, packed(tint)));
      place.u += step.u;
      place.v += step.v;
      tint.red += red.by_x;
      tint.green += green.by_x;
      tint.blue += blue.by_x;
      tint.alpha += alpha.by_x;
    }
  });
}

}  // namespace

void draw_triangles(const DrawTarget& target, const ClipBox& clip, const Sampled& texture,
                    const ImDrawVert* vertices, const ImDrawIdx* indices, unsigned count) {
  Drawing drawing(target, clip, texture);
  for (unsigned i = 0; i + 2 < count; i += 3) {
    const ImDrawIdx* index = indices + i;
    const bool pair = i + 5 < count && index[3] == index[0] && index[4] == index[2];
    if (pair && drawing.upright(vertices[index[0]], vertices[index[1]], vertices[index[2]],
                                vertices[index[5]])) {
      i += 3;
      continue;
    }
    drawing.triangle(vertices[index[0]], vertices[index[1]], vertices[index[2]]);
  }
}

}  // namespace understudy
