// What the renderers put where, on both ways: in memory, and by SDL's software renderer.
#include "sim/window/renderer.h"

#include <gtest/gtest.h>

#include <array>
#include <functional>

#include "sim/window/offscreen.h"

namespace understudy {
namespace {

using Colour = std::array<int, 3>;

Colour at(const Bitmap& bitmap, int x, int y) {
  const std::uint8_t* pixel = &bitmap.rgba[static_cast<std::size_t>(4 * (y * bitmap.width + x))];
  return {pixel[0], pixel[1], pixel[2]};
}

constexpr Colour kPaper = {244, 237, 222};

Bitmap drawn(const std::function<void(ImDrawList&, Textures&)>& what) {
  Offscreen offscreen({.width = 64, .height = 48});
  return offscreen.draw([&] { what(*ImGui::GetBackgroundDrawList(), offscreen.textures()); });
}

TEST(MemoryRenderer, ARectangleIsFilledWithinItsClipAndNowhereElse) {
  const Bitmap seen = drawn([](ImDrawList& list, Textures&) {
    list.PushClipRect({10, 10}, {20, 20});
    list.AddRectFilled({5, 5}, {40, 40}, IM_COL32(200, 10, 30, 255));
    list.PopClipRect();
  });
  for (int y = 0; y < 48; ++y) {
    for (int x = 0; x < 64; ++x) {
      const bool inside = x >= 10 && x < 20 && y >= 10 && y < 20;
      EXPECT_EQ(at(seen, x, y), inside ? (Colour{200, 10, 30}) : kPaper) << x << "," << y;
    }
  }
}

TEST(MemoryRenderer, ATextureOnWholePixelsIsCopiedExactly) {
  Bitmap painted(3, 2);
  for (std::size_t i = 0; i < painted.rgba.size(); ++i) {
    painted.rgba[i] = static_cast<std::uint8_t>(i % 4 == 3 ? 255 : 10 * i);
  }
  const Bitmap seen = drawn([&](ImDrawList& list, Textures& textures) {
    list.AddImage(textures.keep(painted), {7, 9}, {10, 11});
  });
  for (int y = 0; y < 2; ++y) {
    for (int x = 0; x < 3; ++x) EXPECT_EQ(at(seen, 7 + x, 9 + y), at(painted, x, y));
  }
  EXPECT_EQ(at(seen, 6, 9), kPaper);
  EXPECT_EQ(at(seen, 10, 10), kPaper);
}

// Porter and Duff, Compositing digital images, 1984: source over destination.
TEST(MemoryRenderer, HalfCoveringInkLeavesHalfOfThePaper) {
  const Bitmap seen = drawn([](ImDrawList& list, Textures&) {
    list.AddRectFilled({0, 0}, {20, 20}, IM_COL32(0, 0, 0, 128));
  });
  for (int i = 0; i < 3; ++i) {
    const double expected = kPaper[static_cast<std::size_t>(i)] * (1.0 - 128.0 / 255.0);
    EXPECT_NEAR(at(seen, 5, 5)[static_cast<std::size_t>(i)], expected, 1.0);
  }
}

TEST(MemoryRenderer, TwoTrianglesWithACommonEdgeCoverEachPixelOnce) {
  const Bitmap seen = drawn([](ImDrawList& list, Textures&) {
    list.Flags &= ~ImDrawListFlags_AntiAliasedFill;
    const ImU32 half = IM_COL32(0, 0, 0, 100);
    list.AddTriangleFilled({3.3F, 2.1F}, {55.7F, 9.2F}, {20.9F, 44.4F}, half);
    list.AddTriangleFilled({55.7F, 9.2F}, {60.2F, 40.6F}, {20.9F, 44.4F}, half);
  });
  const int once = static_cast<int>(244 * (1.0 - 100.0 / 255.0));
  int covered = 0;
  for (int y = 0; y < 48; ++y) {
    for (int x = 0; x < 64; ++x) {
      const int red = at(seen, x, y)[0];
      if (red == 244) continue;
      EXPECT_NEAR(red, once, 1) << x << "," << y;
      ++covered;
    }
  }
  // The area of the four-sided figure, by the shoelace formula.
  EXPECT_NEAR(covered, 1'671.3, 8.0);
}

TEST(SdlRenderer, ARectangleIsFilledWithinItsClipAndNowhereElse) {
  SDL_Surface* surface = SDL_CreateRGBSurfaceWithFormat(0, 64, 48, 32, SDL_PIXELFORMAT_ABGR8888);
  SDL_Renderer* software = SDL_CreateSoftwareRenderer(surface);
  ASSERT_NE(software, nullptr);
  ImGui::CreateContext();
  {
    SdlRenderer renderer(software);
    ImGuiIO& io = ImGui::GetIO();
    io.IniFilename = nullptr;
    io.DisplaySize = {64, 48};
    io.DeltaTime = 0.02F;
    io.Fonts->AddFontDefault();
    renderer.take_atlas(*io.Fonts);
    ImGui::NewFrame();
    ImDrawList& list = *ImGui::GetBackgroundDrawList();
    list.PushClipRect({10, 10}, {20, 20});
    list.AddRectFilled({5, 5}, {40, 40}, IM_COL32(200, 10, 30, 255));
    list.PopClipRect();
    ImGui::Render();
    renderer.draw(*ImGui::GetDrawData(), IM_COL32(244, 237, 222, 255));
  }
  Bitmap seen(64, 48);
  SDL_RenderReadPixels(software, nullptr, SDL_PIXELFORMAT_ABGR8888, seen.rgba.data(), 64 * 4);
  EXPECT_EQ(at(seen, 10, 10), (Colour{200, 10, 30}));
  EXPECT_EQ(at(seen, 19, 19), (Colour{200, 10, 30}));
  EXPECT_EQ(at(seen, 9, 10), kPaper);
  EXPECT_EQ(at(seen, 20, 19), kPaper);
  ImGui::DestroyContext();
  SDL_DestroyRenderer(software);
  SDL_FreeSurface(surface);
}

}  // namespace
}  // namespace understudy
