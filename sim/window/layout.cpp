// Areas lie where they leave the face the most room.
#include "sim/window/layout.h"

#include <algorithm>
#include <cmath>

namespace understudy {
namespace {

constexpr float kStripUnits = 40;
constexpr float kTabUnits = 30;
constexpr float kTimelineUnits = 104;
constexpr float kGapUnits = 18;
constexpr float kSplitterUnits = 8;
constexpr float kAreasLeastUnits = 250;  // wide enough for a line of text and its time

// The largest box of the ratio in `table`, in the middle of it.
Box fitted(const Box& table, float ratio) {
  const float width = std::floor(std::max(1.0F, std::min(table.width(), table.height() * ratio)));
  const float height = std::floor(std::max(1.0F, width / ratio));
  const float left = std::floor(table.left + (table.width() - width) / 2);
  const float top = std::floor(table.top + (table.height() - height) / 2);
  return {left, top, left + width, top + height};
}

Box inset(const Box& box, float by) {
  Box smaller = {box.left + by, box.top + by, box.right - by, box.bottom - by};
  smaller.right = std::max(smaller.right, smaller.left);
  smaller.bottom = std::max(smaller.bottom, smaller.top);
  return smaller;
}

// The areas' part of `length`, with neither them nor the face squeezed away.
float areas_length(float length, float share, float least) {
  const float wanted = length * std::clamp(share, kShareLeast, kShareMost);
  return std::floor(std::clamp(wanted, std::min(least, length / 2), length * kShareMost));
}

}  // namespace

Layout divided(const LayoutWish& wish) {
  const float unit = wish.unit;
  Layout layout;
  if (wish.compact) {
    layout.table = {0, 0, wish.window.x, wish.window.y};
    layout.face = fitted(layout.table, wish.face_ratio);
    return layout;
  }
  const float under = std::min(std::round(kStripUnits * unit), wish.window.y / 3);
  layout.strip = {0, 0, wish.window.x, under};
  Box room = {0, under, wish.window.x, wish.window.y};
  if (wish.timeline) {
    const float height = std::min(std::round(kTimelineUnits * unit), room.height() / 3);
    layout.timeline = {0, room.bottom - height, wish.window.x, room.bottom};
    room.bottom -= height;
  }
  if (wish.areas) {
    const float split =
        std::min({std::round(kSplitterUnits * unit), room.width() / 8, room.height() / 8});
    const float right = areas_length(room.width(), wish.share, kAreasLeastUnits * unit);
    const float low = areas_length(room.height(), wish.share, kAreasLeastUnits * unit * 0.6F);
    const Box beside = {room.left, room.top, room.right - right - split, room.bottom};
    const Box above = {room.left, room.top, room.right, room.bottom - low - split};
    const float gap = kGapUnits * unit;
    layout.below = fitted(inset(above, gap), wish.face_ratio).width() >
                   1.25F * fitted(inset(beside, gap), wish.face_ratio).width();
    const Box rest = layout.below ? above : beside;
    layout.areas = layout.below ? Box{room.left, rest.bottom + split, room.right, room.bottom}
                                : Box{rest.right + split, room.top, room.right, room.bottom};
    layout.splitter = layout.below ? Box{room.left, rest.bottom, room.right, rest.bottom + split}
                                   : Box{rest.right, room.top, rest.right + split, room.bottom};
    room = rest;
  }
  if (wish.tabs) {
    const float height = std::min(std::round(kTabUnits * unit), room.height() / 3);
    layout.tabs = {room.left, room.top, room.right, room.top + height};
    room.top += height;
  }
  layout.table = room;
  layout.face = fitted(inset(room, kGapUnits * unit), wish.face_ratio);
  return layout;
}

float dragged_share(const LayoutWish& wish, const Layout& layout, ImVec2 at) {
  const float bottom = wish.timeline ? layout.timeline.top : wish.window.y;
  const float share = layout.below ? (bottom - at.y) / (bottom - layout.strip.bottom)
                                   : (wish.window.x - at.x) / wish.window.x;
  return std::clamp(share, kShareLeast, kShareMost);
}

}  // namespace understudy
