// How the window is divided, from the smallest to the largest size that is promised.
#include "sim/window/layout.h"

#include <gtest/gtest.h>

#include <vector>

namespace understudy {
namespace {

std::vector<LayoutWish> wishes() {
  std::vector<LayoutWish> all;
  for (const ImVec2 window : {ImVec2(800, 500), ImVec2(1280, 720), ImVec2(2560, 1440),
                              ImVec2(600, 900), ImVec2(320, 200), ImVec2(1, 1)}) {
    for (const float unit : {1.0F, 1.25F, 2.0F}) {
      for (const float ratio : {0.2F, 1.0F, 1.86F, 8.0F}) {
        for (const float share : {0.0F, 0.36F, 1.0F}) {
          for (int bits = 0; bits < 8; ++bits) {
            all.push_back({.window = window,
                           .unit = unit,
                           .face_ratio = ratio,
                           .share = share,
                           .areas = (bits & 1) != 0,
                           .tabs = (bits & 2) != 0,
                           .compact = (bits & 4) != 0});
          }
        }
      }
    }
  }
  return all;
}

bool within(const Box& inner, const Box& outer) {
  return inner.left >= outer.left && inner.top >= outer.top && inner.right <= outer.right &&
         inner.bottom <= outer.bottom && inner.left <= inner.right && inner.top <= inner.bottom;
}

bool apart(const Box& one, const Box& other) {
  return one.right <= other.left || other.right <= one.left || one.bottom <= other.top ||
         other.bottom <= one.top;
}

TEST(Layout, NoTwoPartsOverlapAndNoneLeavesTheWindow) {
  for (const LayoutWish& wish : wishes()) {
    const Layout layout = divided(wish);
    const Box window = {0, 0, wish.window.x, wish.window.y};
    const Box parts[] = {layout.strip, layout.tabs, layout.table, layout.splitter, layout.areas};
    for (const Box& part : parts) ASSERT_TRUE(within(part, window));
    for (std::size_t i = 0; i < std::size(parts); ++i) {
      for (std::size_t j = i + 1; j < std::size(parts); ++j) {
        ASSERT_TRUE(apart(parts[i], parts[j])) << i << " and " << j;
      }
    }
  }
}

TEST(Layout, TheFaceKeepsItsProportionToAPixel) {
  for (const LayoutWish& wish : wishes()) {
    const Box face = divided(wish).face;
    if (face.width() < 40 || face.height() < 40) continue;
    EXPECT_NEAR(face.width() / wish.face_ratio, face.height(), 1.0F);
  }
}

TEST(Layout, TheFaceTakesAtLeastHalfOfTheWidthAt800By500) {
  const Layout layout = divided({.window = {800, 500}, .face_ratio = 260.0F / 140.0F});
  EXPECT_GT(layout.face.width(), 400.0F);
  EXPECT_GE(layout.areas.width(), 250.0F);
}

TEST(Layout, ATallWindowHasItsAreasBelow) {
  EXPECT_TRUE(divided({.window = {600, 1'000}}).below);
  EXPECT_FALSE(divided({.window = {1'280, 720}}).below);
}

TEST(Layout, ASplitterStaysWhereItWasDraggedTo) {
  LayoutWish wish = {.window = {1'280, 720}};
  for (const float at : {500.0F, 700.0F, 900.0F}) {
    wish.share = dragged_share(wish, divided(wish), {at, 300});
    EXPECT_NEAR(divided(wish).areas.left, at, 10.0F);
  }
}

}  // namespace
}  // namespace understudy
