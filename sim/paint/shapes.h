// Outlines by their distance functions: how far a point lies outside, in millimetres, negative
// inside. x runs to the right, y down. What they are filled with is the canvas's work.
#pragma once

#include <functional>
#include <span>

namespace understudy {

struct Point {
  float x = 0;
  float y = 0;
  friend bool operator==(const Point&, const Point&) = default;
};
inline Point operator+(const Point& a, const Point& b) {
  return {a.x + b.x, a.y + b.y};
}
inline Point operator-(const Point& a, const Point& b) {
  return {a.x - b.x, a.y - b.y};
}
inline Point operator*(const Point& a, float by) {
  return {a.x * by, a.y * by};
}

// An upright rectangle.
struct Extent {
  float left = 0;
  float top = 0;
  float right = 0;
  float bottom = 0;
  [[nodiscard]] float width() const { return right - left; }
  [[nodiscard]] float height() const { return bottom - top; }
  [[nodiscard]] Point middle() const { return {(left + right) / 2, (top + bottom) / 2}; }
  [[nodiscard]] bool holds(const Point& at) const {
    return at.x >= left && at.x < right && at.y >= top && at.y < bottom;
  }
  friend bool operator==(const Extent&, const Extent&) = default;
};
Extent grown(const Extent& extent, float by);
Extent moved(const Extent& extent, const Point& by);
// The least that holds both.
Extent both(const Extent& a, const Extent& b);
bool overlap(const Extent& a, const Extent& b);
// So wide and high around a middle.
Extent around(const Point& middle, float width, float height);

// Immutable; copies share nothing that changes. Distances are true near the edge, which is where
// they count, and never too large inside or outside elsewhere.
class Shape {
 public:
  Shape(const Extent& extent, std::function<float(const Point&)> distance)
      : extent_(extent), distance_(std::move(distance)) {}
  [[nodiscard]] float distance(const Point& at) const { return distance_(at); }
  [[nodiscard]] const Extent& extent() const { return extent_; }  // holds all of it

 private:
  Extent extent_;
  std::function<float(const Point&)> distance_;
};

Shape circle(const Point& middle, float radius);
Shape rounded(const Extent& extent, float corner);
Shape ellipse(const Point& middle, float half_width, float half_height);
// All that is nearer than `radius` to the stroke from `a` to `b`.
Shape capsule(const Point& a, const Point& b, float radius);
// Of even width, half of it to either side of `radius`.
Shape ring(const Point& middle, float radius, float width);
// Part of a ring, from angle to angle, clockwise from straight up, in degrees, with round ends.
Shape arc(const Point& middle, float radius, float width, float from_deg, float to_deg);
Shape polygon(std::span<const Point> corners);
// A circle with so many soft teeth, `depth` from tip to root; the tips lie at `radius`.
Shape knurled(const Point& middle, float radius, int teeth, float depth);

Shape joined(const Shape& a, const Shape& b);
Shape common(const Shape& a, const Shape& b);
Shape cut(const Shape& a, const Shape& hole);
Shape grown(const Shape& shape, float by);
// The edge of a shape as a line, half of it to either side.
Shape outline(const Shape& shape, float width);
Shape moved(const Shape& shape, const Point& by);
// Clockwise, as seen.
Shape turned(const Shape& shape, const Point& around, float degrees);

// The point at an angle clockwise from straight up.
Point at_angle(const Point& middle, float radius, float degrees);

}  // namespace understudy
