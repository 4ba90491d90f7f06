// Distances by plane geometry; joined ones are the lesser of two, common ones the greater.
#include "sim/paint/shapes.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <vector>

namespace understudy {
namespace {

constexpr float kPi = std::numbers::pi_v<float>;

float length(const Point& p) {
  return std::sqrt(p.x * p.x + p.y * p.y);
}

float dot(const Point& a, const Point& b) {
  return a.x * b.x + a.y * b.y;
}

float to_segment(const Point& p, const Point& a, const Point& b) {
  const Point along = b - a;
  const float square = dot(along, along);
  const float share = square > 0 ? std::clamp(dot(p - a, along) / square, 0.0F, 1.0F) : 0.0F;
  return length(p - a - along * share);
}

// Whether a ray to the right of `p` crosses the edge.
bool crosses(const Point& p, const Point& a, const Point& b) {
  if ((a.y > p.y) == (b.y > p.y)) return false;
  return p.x < a.x + (p.y - a.y) / (b.y - a.y) * (b.x - a.x);
}

Extent hull(const std::vector<Point>& corners) {
  Extent extent = {1e9F, 1e9F, -1e9F, -1e9F};
  for (const Point& corner : corners) {
    extent = both(extent, {corner.x, corner.y, corner.x, corner.y});
  }
  return extent;
}

}  // namespace

Extent grown(const Extent& extent, float by) {
  return {extent.left - by, extent.top - by, extent.right + by, extent.bottom + by};
}

Extent moved(const Extent& extent, const Point& by) {
  return {extent.left + by.x, extent.top + by.y, extent.right + by.x, extent.bottom + by.y};
}

Extent both(const Extent& a, const Extent& b) {
  return {std::min(a.left, b.left), std::min(a.top, b.top), std::max(a.right, b.right),
          std::max(a.bottom, b.bottom)};
}

bool overlap(const Extent& a, const Extent& b) {
  return a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom;
}

Extent around(const Point& middle, float width, float height) {
  return {middle.x - width / 2, middle.y - height / 2, middle.x + width / 2, middle.y + height / 2};
}

Point at_angle(const Point& middle, float radius, float degrees) {
  const float angle = degrees * kPi / 180;
  return {middle.x + radius * std::sin(angle), middle.y - radius * std::cos(angle)};
}

Shape circle(const Point& middle, float radius) {
  return {around(middle, 2 * radius, 2 * radius),
          [middle, radius](const Point& p) { return length(p - middle) - radius; }};
}

Shape rounded(const Extent& extent, float corner) {
  const Point middle = extent.middle();
  const float round = std::min({corner, extent.width() / 2, extent.height() / 2});
  const Point half = {extent.width() / 2 - round, extent.height() / 2 - round};
  return {extent, [middle, round, half](const Point& p) {
            const Point q = {std::abs(p.x - middle.x) - half.x, std::abs(p.y - middle.y) - half.y};
            const float outside = length({std::max(q.x, 0.0F), std::max(q.y, 0.0F)});
            return outside + std::min(std::max(q.x, q.y), 0.0F) - round;
          }};
}

Shape ellipse(const Point& middle, float half_width, float half_height) {
  return {around(middle, 2 * half_width, 2 * half_height),
          [middle, half_width, half_height](const Point& p) {
            const Point q = p - middle;
            const Point scaled = {q.x / half_width, q.y / half_height};
            const float k = length(scaled);
            if (k < 1e-6F) return -std::min(half_width, half_height);
            const float slope = length({scaled.x / half_width, scaled.y / half_height}) / k;
            return (k - 1) / slope;  // to the first order, which is right at the edge
          }};
}

Shape capsule(const Point& a, const Point& b, float radius) {
  const Extent extent = both(around(a, 0, 0), around(b, 0, 0));
  return {grown(extent, radius),
          [a, b, radius](const Point& p) { return to_segment(p, a, b) - radius; }};
}

Shape ring(const Point& middle, float radius, float width) {
  return outline(circle(middle, radius), width);
}

Shape arc(const Point& middle, float radius, float width, float from_deg, float to_deg) {
  const float half = (to_deg - from_deg) / 2 * kPi / 180;
  const float turn = (from_deg + to_deg) / 2 * kPi / 180;
  const Point up = {std::sin(turn), -std::cos(turn)};
  const Point end = {std::sin(half), std::cos(half)};  // in a frame whose y is `up`
  return {around(middle, 2 * radius + width, 2 * radius + width),
          [middle, radius, width, half, up, end](const Point& p) {
            const Point q = p - middle;
            const Point local = {std::abs(dot(q, {-up.y, up.x})), dot(q, up)};
            const bool within = std::atan2(local.x, local.y) <= half;
            const float away =
                within ? std::abs(length(local) - radius) : length(local - end * radius);
            return away - width / 2;
          }};
}

Shape polygon(std::span<const Point> corners) {
  const std::vector<Point> kept(corners.begin(), corners.end());
  return {hull(kept), [kept](const Point& p) {
            float nearest = 1e9F;
            bool inside = false;
            for (std::size_t i = 0; i < kept.size(); ++i) {
              const Point& a = kept[i];
              const Point& b = kept[(i + 1) % kept.size()];
              nearest = std::min(nearest, to_segment(p, a, b));
              if (crosses(p, a, b)) inside = !inside;
            }
            return inside ? -nearest : nearest;
          }};
}

Shape knurled(const Point& middle, float radius, int teeth, float depth) {
  const auto count = static_cast<float>(teeth);
  return {around(middle, 2 * radius, 2 * radius), [middle, radius, count, depth](const Point& p) {
            const Point q = p - middle;
            const float away = length(q);
            if (away < radius - 3 * depth) return away - radius;
            const float angle = std::atan2(q.x, -q.y) * count;
            const float edge = radius - depth * (0.5F - 0.5F * std::cos(angle));
            const float slope = depth * 0.5F * count * std::sin(angle) / std::max(away, 1e-3F);
            return (away - edge) / std::sqrt(1 + slope * slope);
          }};
}

Shape joined(const Shape& a, const Shape& b) {
  return {both(a.extent(), b.extent()),
          [a, b](const Point& p) { return std::min(a.distance(p), b.distance(p)); }};
}

Shape common(const Shape& a, const Shape& b) {
  const Extent& x = a.extent();
  const Extent& y = b.extent();
  return {{std::max(x.left, y.left), std::max(x.top, y.top), std::min(x.right, y.right),
           std::min(x.bottom, y.bottom)},
          [a, b](const Point& p) { return std::max(a.distance(p), b.distance(p)); }};
}

Shape cut(const Shape& a, const Shape& hole) {
  return {a.extent(),
          [a, hole](const Point& p) { return std::max(a.distance(p), -hole.distance(p)); }};
}

Shape grown(const Shape& shape, float by) {
  return {grown(shape.extent(), by),
          [shape, by](const Point& p) { return shape.distance(p) - by; }};
}

Shape outline(const Shape& shape, float width) {
  return {grown(shape.extent(), width / 2),
          [shape, width](const Point& p) { return std::abs(shape.distance(p)) - width / 2; }};
}

Shape moved(const Shape& shape, const Point& by) {
  return {moved(shape.extent(), by),
          [shape, by](const Point& p) { return shape.distance(p - by); }};
}

Shape turned(const Shape& shape, const Point& around_point, float degrees) {
  const float cosine = std::cos(degrees * kPi / 180);
  const float sine = std::sin(degrees * kPi / 180);
  const auto back = [around_point, cosine, sine](const Point& p) {
    const Point q = p - around_point;
    return around_point + Point{q.x * cosine + q.y * sine, q.y * cosine - q.x * sine};
  };
  const Extent& e = shape.extent();
  std::vector<Point> corners;
  for (const Point& corner :
       {Point{e.left, e.top}, {e.right, e.top}, {e.right, e.bottom}, {e.left, e.bottom}}) {
    const Point q = corner - around_point;
    corners.push_back(around_point + Point{q.x * cosine - q.y * sine, q.y * cosine + q.x * sine});
  }
  return {hull(corners), [shape, back](const Point& p) { return shape.distance(back(p)); }};
}

}  // namespace understudy
